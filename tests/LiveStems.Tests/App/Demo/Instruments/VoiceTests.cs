using LiveStems.App.Demo.Instruments;
using LiveStems.App.Demo.Score;
using Xunit;

namespace LiveStems.Tests.App.Demo.Instruments;

public class VoiceTests
{
    private const int Rate = 48000;
    private static readonly SingerProfile Singing = new(1, 0.6, 0.5, 5.3, 30, 0, 0, 0, 3);

    [Theory]
    [InlineData("i", 320, 2500, 1200)]
    [InlineData("A", 800, 1180, 2000)]
    [InlineData("u", 370, 900, 1700)]
    public void VowelsHaveTheirFormants(string vowel, double f1, double f2, double valleyHertz)
    {
        StemSound sound = Sing($"A3 4 la {vowel}");

        // With harmonics 220 Hz apart, a band of ±130 Hz around a formant always holds one.
        double first = sound.Density(f1 - 130, f1 + 130, 1, 2, 4096);
        double second = sound.Density(f2 - 130, f2 + 130, 1, 2, 4096);
        double valley = sound.Density(valleyHertz - 130, valleyHertz + 130, 1, 2, 4096);
        Assert.True(first > second && second > valley + 3, $"{first:0.0}, {second:0.0}, {valley:0.0} dB");
    }

    [Fact]
    public void VoiceSingsTheWrittenPitch()
    {
        double hertz = PitchMeter.Hertz(Sing("A3 4 la lA"), 1.2, 0.2, 150, 320);

        Assert.InRange(PitchMeter.Cents(hertz, 57), -25, 25);
    }

    [Fact]
    public void SibilanceRaisesTheHissOfAnSByItsDecibels()
    {
        StemSound plain = Sing("- 1 | A3 2 say sA");
        StemSound sharp = Sing("- 1 | A3 2 say sA", Singing with { SibilanceDb = 8 });

        // The s takes the 120 ms before the vowel, which begins at 1 s at 120 beats a minute.
        double rise = sharp.Density(6000, 9000, 0.91, 0.96, 1024) - plain.Density(6000, 9000, 0.91, 0.96, 1024);
        Assert.Equal(8, rise, 0.3);
    }

    [Fact]
    public void VowelBeginsOnItsBeatAndConsonantsBefore()
    {
        List<SungNote> notes = SungLine.Parse(0, "- 2 | A3 1 salt sQlt | B3 1 _ _ | - 1");
        List<SoundSpan> spans = VoiceTimeline.Lay(notes, Groove());

        Assert.Equal([SoundKind.Fricative, SoundKind.Vowel, SoundKind.Vowel, SoundKind.Glide, SoundKind.Plosive], spans.Select(span => span.Sound.Kind));
        Assert.Equal(1.5, spans[1].Start, 6);
        Assert.Equal(1.5, spans[0].End, 6);
        Assert.True(spans.Zip(spans.Skip(1)).All(pair => pair.First.End <= pair.Second.Start + 1e-9));
    }

    private static Groove Groove() => new(new SongForm(120, 1, 0, 0, ("Verse", 0.7, "Am | Am")), 1, 0.5, 0, 0, 1);

    private static StemSound Sing(string line, SingerProfile? profile = null) => new(
        [Singer.Sing(SungLine.Parse(0, line), Groove(), profile ?? Singing, _ => 0.8, 4 * Rate, Rate)], Rate);
}
