using LiveStems.Albums.Model;
using LiveStems.Engine.Planning;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Live;

public sealed class FollowingSongTests : IDisposable
{
    private const int SampleRate = PlayedSong.SampleRate;
    private const int Length = 50_021;

    private readonly PlayedSong played = new();
    private readonly TestSong next = new();

    public void Dispose()
    {
        played.Dispose();
        next.Dispose();
    }

    [Theory]
    [InlineData(false, false)]
    [InlineData(true, false)]
    [InlineData(false, true)]
    [InlineData(true, true)]
    public void NextSongFollowsToTheSampleWhateverTheLatencies(bool firstIsLate, bool nextIsLate)
    {
        float[] noise = Noise.White(2 * Length, 9, 0.1f);
        AddHalves(noise, firstIsLate, nextIsLate);
        Play();
        Assert.True(played.RunUntil(() => played.Player.FollowedSongs == 1));
        played.Run(0.5);
        int lag = Align(noise);
        for (int i = Length - 2000; i < Length + 2000; i++)
        {
            Assert.Equal(noise[i], played.Device.Left[i + lag], 2e-5f);
        }

        Assert.Equal("Next", played.Player.Look().Song);
        Assert.Equal(0, played.Device.AllocatedBytes);
    }

    [Fact]
    public void WhatRingsOnIsHeardUnderTheNextSong()
    {
        // The first song echoes 1000 frames later at half the level, for ever; the next is silence.
        float[] tone = TestSignals.Sine(Length, 400, SampleRate, 0.2);
        played.Files.AddStem("a", tone, tone, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("echo")) });
        next.AddStem("b", new float[Length], new float[Length]);
        Play();
        Assert.True(played.RunUntil(() => played.Player.FollowedSongs == 1));
        played.Run(0.1);
        int end = Enumerable.Range(0, played.Device.Left.Count).Last(i => Math.Abs(played.Device.Left[i]) > 0.15f);
        float[] after = [.. played.Device.Left.Skip(end + 1)];
        Assert.InRange(after.Skip(300).Take(600).Max(MathF.Abs), 0.05f, 0.25f);
        Assert.InRange(after.Skip(3300).Take(600).Max(MathF.Abs), 0.005f, 0.05f);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void AChangeToTheNextSongDoesNotWaitForWhatRingsOn(bool needsAnotherPlan)
    {
        // Three seconds until the room is quiet by 60 dB.
        float[] noise = Noise.White(Length, 9, 0.02f);
        played.Files.AddStem("a", noise, noise, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("room", ("wetPercent", 50), ("rt60Ms", 3000))) });
        float[] tone = TestSignals.Sine(4 * Length, 400, SampleRate, 0.2);
        next.AddStem("b", tone, tone);
        Play(BuiltInProcessors.Catalogue);
        Assert.True(played.RunUntil(() => played.Player.FollowedSongs == 1));
        Stem stem = next.Song.Stems[0];
        Stem changed = needsAnotherPlan
            ? stem with { Chain = TestSong.Chain(TestSong.Slot("gain", ("gainDb", -40))) }
            : stem with { Placement = stem.Placement with { Muted = true } };
        played.Player.Show(next.Song with { Stems = [changed] }, next.Folder);
        played.Run(needsAnotherPlan ? 0.4 : 0.05);
        Assert.InRange(played.LoudestOfLast(0.01), 0, 0.05f);
        Assert.Empty(played.Troubles);
    }

    [Fact]
    public void SongOfAnotherRateIsConvertedAndFollowsWithoutAGap()
    {
        float[] first = TestSignals.Sine(Length, 400, SampleRate, 0.2);
        played.Files.AddStem("a", first, first);
        double phase = 2 * Math.PI * 400 * Length / SampleRate;
        float[] second = TestSignals.Sine(44_100, 400, 44_100, 0.2, phase);
        next.AddStem("b", second, second, sampleRate: 44_100);
        Play();
        Assert.True(played.RunUntil(() => played.Player.FollowedSongs == 1));
        played.Run(0.4);

        // One sine throughout, to the converter's accuracy; its filter begins at the cut, so the first milliseconds ring.
        float[] whole = TestSignals.Sine(Length + 15_000, 400, SampleRate, 0.2);
        int lag = Align(whole);
        for (int i = Length - 2000; i < whole.Length; i++)
        {
            bool isBesideTheCut = Math.Abs(i - Length) < 300;
            Assert.Equal(whole[i], played.Device.Left[i + lag], isBesideTheCut ? 0.05f : 1e-4f);
        }
    }

    [Fact]
    public void ForgottenFollowingSongIsNotPlayed()
    {
        AddHalves(Noise.White(2 * Length, 9, 0.1f), false, false);
        Play();
        played.Run(0.1);
        played.Player.Follow(null, next.Folder);
        played.Run(1.2);
        Assert.Equal(0, played.Player.FollowedSongs);
        Assert.Equal(0, played.LoudestOfLast(0.05));
    }

    [Fact]
    public void FollowingSongThatCannotBeOpenedIsNamed()
    {
        AddHalves(Noise.White(2 * Length, 9, 0.1f), false, false);
        File.Delete(Path.Combine(next.Folder, "b.wav"));
        Play();
        played.Run(0.1);
        Assert.Contains(played.Troubles, trouble => trouble.StartsWith("the next song cannot be played", StringComparison.Ordinal));
        Assert.False(played.Player.Look().HasFollowing);
    }

    [Fact]
    public void FollowingSongCanBeFollowedAndLeft()
    {
        AddHalves(Noise.White(2 * Length, 9, 0.1f), true, false);
        Play();
        Assert.True(played.RunUntil(() => played.Player.FollowedSongs == 1));
        played.Player.Follow(played.Song, played.Files.Folder);
        Assert.True(played.RunUntil(() => played.Player.FollowedSongs == 2));
        played.Player.Show(next.Song, next.Folder);
        Assert.True(played.RunUntil(() => played.Player.Look().Song == "Next"));
    }

    [Theory]
    [InlineData(false, false)]
    [InlineData(true, false)]
    [InlineData(false, true)]
    [InlineData(true, true)]
    public void AsOnTheAlbumTheNextSongComesCutAndFadedBehindItsGap(bool firstIsLate, bool nextIsLate)
    {
        float[] noise = Noise.White(2 * Length, 9, 0.1f);
        AddHalves(noise, firstIsLate, nextIsLate);
        played.Files.Song = played.Files.Song with { Edges = SongEdges.Usual with { TrimEndSeconds = 0.1, FadeOutSeconds = 0.2, FadeOutShape = FadeShape.Linear } };
        next.Song = next.Song with { Edges = SongEdges.Usual with { GapBeforeSeconds = 0.15, TrimStartSeconds = 0.05, FadeInSeconds = 0.1, FadeInShape = FadeShape.Linear } };
        PlayAsOnAlbum();
        int lag = Align(noise);
        (int end, int fadeOut, int gap, int start, int fadeIn) = (Length - Frames(0.1), Frames(0.2), Frames(0.15), Frames(0.05), Frames(0.1));
        for (int i = end - fadeOut - 1000; i < end; i++)
        {
            Assert.Equal(noise[i] * Math.Min(1, (end - i - 0.5) / fadeOut), played.Device.Left[i + lag], 2e-5);
        }

        for (int i = 0; i < gap; i++)
        {
            Assert.Equal(0, played.Device.Left[end + i + lag], 1e-5);
        }

        for (int i = 0; i < fadeIn + 2000; i++)
        {
            Assert.Equal(noise[Length + start + i] * Math.Min(1, (i + 0.5) / fadeIn), played.Device.Left[end + gap + i + lag], 2e-5);
        }

        Assert.Equal(0, played.Device.AllocatedBytes);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void AsOnTheAlbumSongsCrossFadeWithEqualPower(bool isLate)
    {
        float[] noise = Noise.White(2 * Length, 9, 0.1f);
        AddHalves(noise, isLate, isLate);
        played.Files.Song = played.Files.Song with { Edges = SongEdges.Usual with { CrossFadeSeconds = 0.25 } };
        PlayAsOnAlbum();
        int lag = Align(noise);
        int crossed = Frames(0.25);
        for (int i = 0; i < crossed; i++)
        {
            double angle = Math.PI / 2 * (i + 0.5) / crossed;
            double expected = noise[Length - crossed + i] * Math.Cos(angle) + noise[Length + i] * Math.Sin(angle);
            Assert.Equal(expected, played.Device.Left[Length - crossed + i + lag], 2e-5);
        }

        for (int i = crossed; i < crossed + 2000; i++)
        {
            Assert.Equal(noise[Length + i], played.Device.Left[Length - crossed + i + lag], 2e-5f);
        }
    }

    private static int Frames(double seconds) => (int)Math.Round(seconds * SampleRate);

    private void PlayAsOnAlbum()
    {
        next.Song = next.Song with { Title = "Next" };
        played.Start(TestProcessors.Catalogue);
        played.Player.IsAsOnAlbum = true;
        played.Player.Follow(next.Song, next.Folder);
        played.Forget();
        played.Player.Play();
        Assert.True(played.RunUntil(() => played.Player.FollowedSongs == 1));
        played.Run(0.7);
    }

    private void AddHalves(float[] noise, bool firstIsLate, bool nextIsLate)
    {
        played.Files.AddStem("a", noise[..Length], noise[..Length], stem => Late(stem, firstIsLate));
        next.AddStem("b", noise[Length..], noise[Length..], stem => Late(stem, nextIsLate));
    }

    private static Stem Late(Stem stem, bool isLate) => isLate ? stem with { Chain = TestSong.Chain(TestSong.Slot("late")) } : stem;

    private void Play(ProcessorCatalogue? catalogue = null)
    {
        next.Song = next.Song with { Title = "Next" };
        played.Start(catalogue ?? TestProcessors.Catalogue);
        played.Player.Follow(next.Song, next.Folder);
        played.Forget();
        played.Player.Play();
    }

    private int Align(float[] noise)
    {
        for (int lag = 0; lag < played.Device.Left.Count - Length; lag++)
        {
            int i = 5000;
            while (i < 5200 && Math.Abs(played.Device.Left[i + lag] - noise[i]) < 2e-5f)
            {
                i++;
            }

            if (i == 5200)
            {
                return lag;
            }
        }

        throw new InvalidOperationException("the song is not heard");
    }
}
