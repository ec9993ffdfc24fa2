using LiveStems.Engine.Monitor;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Monitor;

public class MonitorPathTests
{
    private const int Length = 20_000;

    // Soft enough that the safety limiter has no part in it, between the samples either.
    private static readonly float[] One = Noise.White(Length, 1, 0.15f);
    private static readonly float[] Two = Noise.White(Length, 2, 0.15f);

    [Fact]
    public void StartsDimmed()
    {
        MonitorPath path = new(48_000);
        (float[] left, float[] right) = MonitorRun.Through(path, One, Two);
        for (int i = path.LatencyFrames; i < Length; i++)
        {
            Assert.Equal(0.1f * One[i - path.LatencyFrames], left[i], 1e-7f);
            Assert.Equal(0.1f * Two[i - path.LatencyFrames], right[i], 1e-7f);
        }
    }

    [Theory]
    [InlineData(44_100)]
    [InlineData(48_000)]
    [InlineData(96_000)]
    [InlineData(192_000)]
    public void DelaysByItsLatencyWhateverTheSettings(int sampleRate)
    {
        MonitorPath path = MonitorRun.With(MonitorRun.Plain, sampleRate);
        (float[] left, _) = MonitorRun.Through(path, One, Two);
        Assert.InRange(path.LatencyFrames, 1, 0.0035 * sampleRate);
        Assert.Equal(One[..^path.LatencyFrames], left[path.LatencyFrames..]);

        int before = path.LatencyFrames;
        path.Post(Busy);
        MonitorRun.Through(path, One, Two);
        Assert.Equal(before, path.LatencyFrames);
    }

    [Theory]
    [InlineData(MonitorChannels.Mono, false, 0.5, 0.5, 0.5, 0.5)]
    [InlineData(MonitorChannels.Side, false, 0.5, -0.5, 0.5, -0.5)]
    [InlineData(MonitorChannels.Stereo, true, 0.0, 1.0, 1.0, 0.0)]
    [InlineData(MonitorChannels.Mono, true, 0.5, 0.5, 0.5, 0.5)]
    public void ChannelsAreChosen(MonitorChannels channels, bool isSwapped, double ll, double lr, double rl, double rr)
    {
        MonitorPath path = MonitorRun.With(MonitorRun.Plain with { Channels = channels, IsSwapped = isSwapped });
        (float[] left, float[] right) = MonitorRun.Through(path, One, Two);
        for (int i = path.LatencyFrames; i < Length; i++)
        {
            (float one, float two) = (One[i - path.LatencyFrames], Two[i - path.LatencyFrames]);
            Assert.Equal(ll * one + lr * two, left[i], 1e-7);
            Assert.Equal(rl * one + rr * two, right[i], 1e-7);
        }
    }

    [Fact]
    public void FairGainAndLevelAddUp()
    {
        MonitorPath path = MonitorRun.With(MonitorRun.Plain with { FairGainDb = 4, LevelDb = -10 });
        (float[] left, _) = MonitorRun.Through(path, One, Two);
        double gain = Math.Pow(10, -6 / 20.0);
        for (int i = path.LatencyFrames; i < Length; i++)
        {
            Assert.Equal(gain * One[i - path.LatencyFrames], left[i], 1e-7);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(7)]
    [InlineData(511)]
    [InlineData(4096)]
    [InlineData(8192)]
    public void BlockLengthDoesNotChangeABit(int blockFrames)
    {
        foreach (MonitorSettings settings in new[] { Busy, Busy with { Signal = MonitorSignal.PinkNoise } })
        {
            (float[] left, float[] right) = MonitorRun.Through(MonitorRun.With(settings), One, Two);
            (float[] otherLeft, float[] otherRight) = MonitorRun.Through(MonitorRun.With(settings), One, Two, blockFrames);
            Assert.Equal(left, otherLeft);
            Assert.Equal(right, otherRight);
        }
    }

    [Fact]
    public void ResetIsAsIfFromSilence()
    {
        MonitorPath path = MonitorRun.With(Busy);
        (float[] left, float[] right) = MonitorRun.Through(path, One, Two);
        MonitorRun.Through(path, Two, [.. One.Select((x, i) => i == 77 ? float.NaN : 50 * x)], 31, start => start == 310 ? MonitorRun.Plain : null);
        path.Post(Busy);
        path.Reset();
        (float[] leftAgain, float[] rightAgain) = MonitorRun.Through(path, One, Two);
        Assert.Equal(left, leftAgain);
        Assert.Equal(right, rightAgain);
    }

    [Fact]
    public void AudioThreadAllocatesNothing()
    {
        MonitorPath path = new(48_000);
        float[] left = [.. One];
        float[] right = [.. Two];
        left[500] = float.NaN;
        MonitorSettings[] all = [.. Enumerable.Range(0, 40).Select(Varied)];
        long allocated = 0;
        foreach (MonitorSettings settings in all.Concat(all))
        {
            path.Post(settings);
            long before = GC.GetAllocatedBytesForCurrentThread();
            path.Process(left.AsSpan(0, 4000), right.AsSpan(0, 4000));
            path.TakePeaks();
            allocated += GC.GetAllocatedBytesForCurrentThread() - before;
        }

        Assert.Equal(0, allocated);
    }

    [Fact]
    public void TailDiesAwayToExactSilence()
    {
        // Whatever is left of the sound must not linger as subnormal numbers: 20 Hz edges ring longest.
        MonitorPath path = MonitorRun.With(MonitorRun.Plain with { BandListen = true, BandCentreHz = 20, BandWidthOctaves = 1 });
        float[] left = new float[20 * 48_000];
        One.CopyTo(left, 0);
        (float[] outLeft, _) = MonitorRun.Through(path, left, left, 1024);
        Assert.All(outLeft, sample => Assert.True(sample == 0 || float.IsNormal(sample)));
        Assert.All(outLeft[^48_000..], sample => Assert.Equal(0, sample));
    }

    [Fact]
    public void PeaksAreHeldUntilTheyAreTaken()
    {
        MonitorPath path = MonitorRun.With(MonitorRun.Plain);
        float[] left = new float[4800];
        float[] right = new float[4800];
        left[100] = -0.4f;
        right[200] = 0.25f;
        MonitorRun.Through(path, left, right);
        Assert.Equal((0.4f, 0.25f), path.TakePeaks());
        Assert.Equal((0f, 0f), path.TakePeaks());
    }

    [Fact]
    public void SafetyReductionIsShownWhileItLasts()
    {
        MonitorPath path = MonitorRun.With(MonitorRun.Plain);
        float[] loud = [.. Enumerable.Repeat(1f, 48_000)];
        MonitorRun.Through(path, loud, loud);
        Assert.Equal(6, path.SafetyReductionDb, 0.01);
        float[] silence = new float[96_000];
        MonitorRun.Through(path, silence, silence);
        Assert.Equal(0, path.SafetyReductionDb, 0.01);
    }

    [Fact]
    public void SafetyReductionIsHeldForThreeSecondsSoThatItCanBeRead()
    {
        MonitorPath path = MonitorRun.With(MonitorRun.Plain);
        float[] burst = [.. Enumerable.Repeat(1f, 4_800), .. new float[2 * 48_000]];
        MonitorRun.Through(path, burst, burst);
        Assert.Equal(0, path.SafetyReductionDb, 0.01);
        // Where it steps, the waveform stands above its samples, by 9 per cent on each side of them (Gibbs).
        Assert.InRange(path.HeldSafetyReductionDb, 5.99, 8);
        float[] silence = new float[2 * 48_000];
        MonitorRun.Through(path, silence, silence);
        Assert.Equal(0, path.HeldSafetyReductionDb, 0.01);
    }

    [Fact]
    public void SettingThatIsNotANumberIsRefusedAndTheOthersStay()
    {
        MonitorPath path = MonitorRun.With(MonitorRun.Plain);
        Assert.Throws<ArgumentException>(() => path.Post(MonitorRun.Plain with { BandCentreHz = double.NaN }));
        (float[] left, _) = MonitorRun.Through(path, One, Two);
        Assert.Equal(One[..^path.LatencyFrames], left[path.LatencyFrames..]);
    }

    [Fact]
    public async Task PostsFromAnotherThreadNeverSpoilTheSound()
    {
        MonitorPath path = new(48_000);
        using CancellationTokenSource stop = new();
        Task poster = Task.Run(
            () =>
            {
                for (int i = 0; !stop.IsCancellationRequested; i++)
                {
                    path.Post(Varied(i));
                    path.TakePeaks();
                }
            },
            TestContext.Current.CancellationToken);
        (float[] left, float[] right) = MonitorRun.Through(path, [.. One, .. Two, .. One], [.. Two, .. One, .. Two]);
        await stop.CancelAsync();
        await poster;
        float ceiling = MathF.Pow(10, -1 / 20f);
        Assert.All(left.Concat(right), sample => Assert.InRange(MathF.Abs(sample), 0, ceiling * 1.0002f));
    }

    private static MonitorSettings Busy { get; } = new()
    {
        LevelDb = -3,
        DimDb = -10,
        FairGainDb = 20,
        IsSwapped = true,
        BandListen = true,
        BandCentreHz = 700,
        BandWidthOctaves = 2,
        BandSlopeDbPerOctave = 24,
        SafetyCeilingDbfs = -20,
    };

    private static MonitorSettings Varied(int i) => new()
    {
        LevelDb = -i % 7,
        IsDimmed = i % 3 == 0,
        FairGainDb = i % 5 - 2,
        Channels = (MonitorChannels)(i % 3),
        IsSwapped = i % 2 == 0,
        BandListen = i % 4 < 3,
        BandCentreHz = 20 * Math.Pow(1000, i * 0.37 % 1),
        BandWidthOctaves = 0.1 + i % 4,
        BandSlopeDbPerOctave = i % 6 < 3 ? 24 : 48,
        SafetyCeilingDbfs = -1 - i % 20,
        Signal = (MonitorSignal)(i / 2 % 3),
    };
}
