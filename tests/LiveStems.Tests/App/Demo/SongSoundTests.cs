using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;
using LiveStems.App.Demo;
using Xunit;

namespace LiveStems.Tests.App.Demo;

/// <summary>What holds for every song; one class a song adds its faults.</summary>
public abstract class SongSoundTests(SongSound sound)
{
    [Fact]
    public void StemsAreFiniteFreeOfOffsetAndFarFromFullScale()
    {
        foreach ((DemoStem stem, StemSound rendered) in sound.Stems)
        {
            Assert.Equal(stem.IsMono ? 1 : 2, rendered.Channels.Length);
            foreach (float[] channel in rendered.Channels)
            {
                Assert.Equal(sound.Song.Frames, channel.Length);
                Assert.All(channel.Where((_, i) => i % 97 == 0), value => Assert.True(float.IsFinite(value)));
                Assert.True(Math.Abs(channel.Average()) < 3e-4, $"{stem.Name} has an offset");
            }

            Assert.InRange(Decibels.FromAmplitude(rendered.Peak), -32, -3);
        }
    }

    [Fact]
    public void FilesBeginAndEndWithoutASoundBeingCut()
    {
        foreach ((DemoStem stem, StemSound rendered) in sound.Stems)
        {
            Assert.All(rendered.Channels, channel => Assert.True(Math.Abs(channel[0]) < 2e-3, $"{stem.Name} starts inside a sound"));
            Assert.All(rendered.Channels, channel => Assert.True(Math.Abs(channel[^1]) < 1e-4, $"{stem.Name} ends inside a sound"));
        }
    }

    [Fact]
    public void PlainSumLeavesTheMasterRoomToWork()
    {
        StemSound sum = sound.Sum();
        var meter = new LoudnessMeter(sum.SampleRate);
        meter.Add(sum.Left, sum.Right);

        Assert.InRange(Decibels.FromAmplitude(sum.Peak), -6, -3);
        Assert.InRange(meter.IntegratedLufs, -21, -19);
    }

    [Fact]
    public void BassDrumFallsOnTheFirstBeatOfEveryBarOfTheChorusAfterTheFill()
    {
        StemSound drums = sound["Drums"];
        double bar = 4 * 60 / sound.Song.Tempo;
        double chorus = sound.Song.Form.StartOf("Chorus 1");
        for (int i = 1; i < sound.Song.Form["Chorus 1"].Bars; i++)
        {
            // A drummer's lateness and scatter stay within 15 ms; a hit is louder after than before by far.
            double beat = chorus + i * bar;
            double before = drums.Density(45, 90, beat - 0.065, beat - 0.015, 2048);
            double after = drums.Density(45, 90, beat + 0.005, beat + 0.055, 2048);
            Assert.True(after > before + 6, $"bar {i}: {before:0.0} dB before, {after:0.0} dB after");
        }
    }

    [Fact]
    public void SameStemTwiceGivesTheSameBits()
    {
        foreach ((DemoStem stem, StemSound rendered) in sound.Stems.Where(item => item.Stem.Name is "Bass" or "Lead voice"))
        {
            float[][] again = stem.Render();
            Assert.All(again.Index(), item => Assert.True(item.Item.AsSpan().SequenceEqual(rendered.Channels[item.Index])));
        }
    }
}
