using LiveStems.Albums.Model;
using LiveStems.Engine.Planning;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine;

public class PlanTests
{
    private const int Length = 20_000;

    private static readonly float[] One = Noise.White(Length, 1);
    private static readonly float[] Two = Noise.White(Length, 2);

    [Fact]
    public void StemWithoutProcessingComesOutAsItWentIn()
    {
        using TestSong song = new();
        song.AddStem("a", One, Two);
        (float[] left, float[] right) = song.Render();
        Assert.Equal(One, left);
        Assert.Equal(Two, right);
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(7, 1)]
    [InlineData(64, 2)]
    [InlineData(511, 2)]
    [InlineData(4096, 1)]
    [InlineData(8192, 2)]
    public void BlockLengthAndThreadsDoNotChangeABit(int blockFrames, int threads)
    {
        using TestSong song = BusySong();
        (float[] left, float[] right) = song.Render();
        (float[] otherLeft, float[] otherRight) = song.Render(blockFrames, threads);
        Assert.Equal(left, otherLeft);
        Assert.Equal(right, otherRight);
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(61, 2)]
    [InlineData(512, 3)]
    [InlineData(17, 64)]
    [InlineData(8192, 1)]
    public void StemsSideBySideDoNotChangeABit(int blockFrames, int threads)
    {
        using TestSong song = new();
        ChainSlot equaliser = TestSong.Slot("equaliser", ("band2.on", 1), ("band2.gainDb", 5), ("band6.on", 1), ("band6.gainDb", -4));
        ChainSlot compressor = TestSong.Slot("compressor", ("thresholdDb", -30), ("ratio", 4));
        ChainSlot[][] chains =
        [
            [equaliser, compressor], [compressor, equaliser], [equaliser], [compressor with { MixPercent = 40 }, equaliser],
            [TestSong.Slot("limiter"), equaliser, compressor], [equaliser, equaliser, compressor], [], [equaliser with { Bypassed = true }, compressor],
            [equaliser with { Scope = StereoScope.Side }, compressor],
        ];
        for (int i = 0; i < chains.Length; i++)
        {
            song.AddStem($"stem {i}", Noise.White(Length / 2, i), Noise.White(Length / 2, i + 50), stem => stem with { Chain = TestSong.Chain(chains[i]) });
        }

        song.Song = song.Song with { Bus = TestSong.Chain(equaliser, compressor, TestSong.Slot("limiter")) };
        (float[] left, float[] right) = song.Render(2048, 1, BuiltInProcessors.Catalogue, new PlanOptions(2048, 16_384) { IsLive = true });
        (float[] otherLeft, float[] otherRight) = song.Render(blockFrames, threads, BuiltInProcessors.Catalogue);
        Assert.Equal(left, otherLeft);
        Assert.Equal(right, otherRight);
    }

    [Fact]
    public void PathsOfDifferentLatencyCancelToSilence()
    {
        using TestSong song = new();
        song.AddStem("late", One, Two, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("late"), TestSong.Slot("late")) });
        song.AddStem("early", One, Two, stem => stem with { Placement = stem.Placement with { Polarity = Polarity.Inverted } });
        (float[] left, float[] right) = song.Render();
        Assert.All(left, sample => Assert.Equal(0, sample));
        Assert.All(right, sample => Assert.Equal(0, sample));
        Assert.Equal(Length, left.Length);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void ParallelMeetsItsStemToTheSample(bool afterChain)
    {
        using TestSong song = new();
        song.AddStem("a", One, Two, stem => stem with
        {
            Chain = TestSong.Chain(TestSong.Slot("late")),
            Parallels = [TestSong.ParallelPath(afterChain, 0, TestSong.Slot("late"), TestSong.Slot("scale", ("factor", -1)))],
        });
        (float[] left, _) = song.Render();
        Assert.All(left, sample => Assert.Equal(0, sample));
    }

    [Theory]
    [InlineData(2)]
    [InlineData(5)]
    [InlineData(64)]
    public void KeyOfTheSongBusBelongsToTheSameBlockOnManyThreads(int threads)
    {
        using TestSong song = new();
        for (int i = 0; i < 9; i++)
        {
            song.AddStem($"stem {i}", Noise.White(Length, i), Noise.White(Length, i + 50));
        }

        song.Song = song.Song with { Bus = TestSong.Chain(TestSong.Slot("key-passer") with { KeyStem = "stem 3" }) };
        (float[] left, float[] right) = song.Render(64, 1);
        (float[] otherLeft, float[] otherRight) = song.Render(64, threads);
        Assert.Equal(left, otherLeft);
        Assert.Equal(right, otherRight);
    }

    [Fact]
    public void KeyFromAnotherStemArrivesWithTheSoundItSteers()
    {
        using TestSong song = new();
        song.AddStem("listener", One, One, stem => stem with
        {
            Chain = TestSong.Chain(TestSong.Slot("late"), TestSong.Slot("key-passer") with { KeyStem = "source" }),
        });
        song.AddStem("source", Two, Two, stem => stem with { Placement = stem.Placement with { Polarity = Polarity.Inverted } });
        (float[] left, _) = song.Render();

        // The listener puts out the source as it enters its chain, polarity included: the sum is twice the inverted source.
        Assert.Equal(Two.Select(sample => -2 * sample), left);
    }

    [Theory]
    [InlineData(250)]
    [InlineData(-250)]
    public void DelayMovesAStemByWholeFrames(int delay)
    {
        using TestSong song = new();
        song.AddStem("a", One, Two, stem => stem with { Placement = stem.Placement with { DelayFrames = delay } });
        (float[] left, _) = song.Render();
        Assert.Equal(Length + delay, left.Length);
        for (int i = Math.Max(0, delay); i < left.Length; i++)
        {
            Assert.Equal(One[i - delay], left[i]);
        }

        Assert.All(left.Take(Math.Max(0, delay)), sample => Assert.Equal(0, sample));
    }

    [Theory]
    [InlineData(0, -3.0103, -3.0103)]
    [InlineData(-1, 0, double.NegativeInfinity)]
    [InlineData(0.5, -8.3435, -0.6877)]
    public void MonoStemFollowsTheSineCosineLaw(double pan, double leftDb, double rightDb)
    {
        // common practice: L = cos θ, R = sin θ, θ = (pan + 1)·45°; values computed from it.
        using TestSong song = new();
        song.AddStem("a", Enumerable.Repeat(1f, 100).ToArray(), null, stem => stem with { Placement = stem.Placement with { Pan = pan } });
        (float[] left, float[] right) = song.Render();
        Assert.Equal(Math.Pow(10, leftDb / 20), left[50], 4);
        Assert.Equal(Math.Pow(10, rightDb / 20), right[50], 4);
    }

    [Fact]
    public void StereoStemIsBalancedWithoutTouchingTheNearSide()
    {
        using TestSong song = new();
        song.AddStem("a", One, Two, stem => stem with { Placement = stem.Placement with { Pan = 0.5 } });
        (float[] left, float[] right) = song.Render();
        Assert.Equal(Two, right);
        Assert.Equal(One[100] * Math.Cos(Math.PI / 4), left[100], 6);
    }

    [Fact]
    public void ShortStemEndsInSilence()
    {
        using TestSong song = new();
        song.AddStem("long", One, One);
        song.AddStem("short", Two[..5000], Two[..5000]);
        (float[] left, _) = song.Render();
        Assert.Equal(Length, left.Length);
        Assert.Equal(One[5000..], left[5000..]);
    }

    [Fact]
    public void TailIsRenderedUntilItCanNoLongerBeHeard()
    {
        using TestSong song = new();
        float[] click = new float[1000];
        click[999] = 1;
        song.AddStem("a", click, click, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("echo")) });
        (float[] left, _) = song.Render();

        // Echo k has the level 2^−k; the last at or above −120 dBFS (1e-6) is k = 19, at frame 999 + 19 000.
        Assert.Equal(999 + 19_000 + 1, left.Length);
    }

    [Fact]
    public void MutedStemIsGoneAndSoloDoesNotReachARender()
    {
        using TestSong song = new();
        song.AddStem("a", One, One, stem => stem with { Placement = stem.Placement with { Muted = true } });
        song.AddStem("b", Two, Two);
        song.AddStem("c", One, One, stem => stem with { Placement = stem.Placement with { Soloed = true, Polarity = Polarity.Inverted } });
        song.AddStem("d", One, One);
        (float[] left, _) = song.Render();
        Assert.Equal(Two.Length, left.Length);
        for (int i = 0; i < left.Length; i++)
        {
            Assert.Equal(Two[i], left[i], 1e-6f);
        }
    }

    [Theory]
    [InlineData(StereoScope.Mid)]
    [InlineData(StereoScope.Side)]
    public void ScopeLeavesTheOtherPartAlone(StereoScope scope)
    {
        using TestSong song = new();
        song.AddStem("a", One, Two, stem => stem with
        {
            Chain = TestSong.Chain(TestSong.Slot("late"), TestSong.Slot("scale", ("factor", 0.5)) with { Scope = scope }),
        });
        (float[] left, float[] right) = song.Render();
        for (int i = 0; i < Length; i++)
        {
            float mid = (One[i] + Two[i]) / 2 * (scope == StereoScope.Mid ? 0.5f : 1);
            float side = (One[i] - Two[i]) / 2 * (scope == StereoScope.Side ? 0.5f : 1);
            Assert.Equal(mid + side, left[i], 1e-6f);
            Assert.Equal(mid - side, right[i], 1e-6f);
        }
    }

    [Fact]
    public void WetAndDryAreAlignedSoThatTheyNeverComb()
    {
        using TestSong song = new();
        song.AddStem("a", One, Two, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("late") with { MixPercent = 50 }) });
        (float[] left, _) = song.Render();
        for (int i = 0; i < Length; i++)
        {
            Assert.Equal(One[i], left[i], 1e-6f);
        }
    }

    [Fact]
    public void ProcessorThatDeliversNaNIsPassedByWithoutAStep()
    {
        using TestSong song = new();
        float[] tone = [.. Enumerable.Range(0, Length).Select(i => 0.5f * MathF.Sin(i * 0.01f))];
        song.AddStem("a", tone, tone, stem => stem with
        {
            Chain = TestSong.Chain(TestSong.Slot("scale", ("factor", 0.5)), TestSong.Slot("breaker") with { MixPercent = 99.999 }),
        });
        (float[] left, _) = song.Render();
        Assert.All(left, sample => Assert.True(float.IsFinite(sample)));
        Assert.Equal(0.5f * tone[^1], left[^1], 1e-5f);
        Assert.All(left.Zip(left.Skip(1)), pair => Assert.True(MathF.Abs(pair.Second - pair.First) < 0.004f));
    }

    [Fact]
    public void UnknownProcessorIsPassedByAndNamed()
    {
        using TestSong song = new();
        song.AddStem("a", One, Two, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("not-here")) });
        (float[] left, _) = song.Render();
        Assert.Equal(One, left);
    }

    [Fact]
    public void StemsOfAnotherRateAreConvertedToTheRateOfTheMajority()
    {
        using TestSong song = new();
        float[] silence = new float[48_000];
        float[] tone = [.. Enumerable.Range(0, 44_100).Select(i => (float)(0.5 * Math.Sin(2 * Math.PI * 1000 * i / 44_100)))];
        song.AddStem("a", silence, silence);
        song.AddStem("b", silence, silence);
        song.AddStem("c", tone, tone, sampleRate: 44_100);
        (float[] left, _) = song.Render();
        Assert.Equal(48_000, left.Length);
        for (int i = 2000; i < 46_000; i++)
        {
            Assert.Equal(0.5 * Math.Sin(2 * Math.PI * 1000 * i / 48_000), left[i], 1e-6);
        }
    }

    private static TestSong BusySong()
    {
        TestSong song = new();
        song.AddStem("a", One, Two, stem => stem with
        {
            Chain = TestSong.Chain(TestSong.Slot("late"), TestSong.Slot("echo") with { MixPercent = 30 }),
            Placement = stem.Placement with { GainDb = -3, Pan = 0.3, DelayFrames = 77 },
            Parallels = [TestSong.ParallelPath(true, -6, TestSong.Slot("echo"), TestSong.Slot("late"))],
        });
        song.AddStem("b", Two, null, stem => stem with
        {
            Chain = TestSong.Chain(TestSong.Slot("key-passer") with { KeyStem = "a", Scope = StereoScope.Mid }),
            Placement = stem.Placement with { Pan = -0.4, DelayFrames = -31 },
        });
        song.AddStem("c", One[..7000], Two[..7000], sampleRate: 44_100);
        song.Song = song.Song with { Bus = TestSong.Chain(TestSong.Slot("late"), TestSong.Slot("echo")) };
        return song;
    }
}
