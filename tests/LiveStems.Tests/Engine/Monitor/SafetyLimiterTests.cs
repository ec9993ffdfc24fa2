using LiveStems.Dsp.Loudness;
using LiveStems.Engine.Monitor;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Engine.Monitor;

public class SafetyLimiterTests
{
    private const int SampleRate = 48_000;

    // The gain is right to the rounding of its logarithm and exponential in single precision: 6e-8 · 120 dB, and 2e-7.
    private const double SampleToleranceDb = 0.001;

    private const double TruePeakToleranceDb = 0.1;

    public static TheoryData<string> Sounds() =>
        ["square", "deep square", "direct current", "noise", "random signs", "turning alternation", "clicks", "music", "gated tone", "highest tone", "single step", "largest numbers"];

    [Theory]
    [MemberData(nameof(Sounds))]
    public void NoSamplePassesTheCeiling(string sound)
    {
        foreach (double ceiling in new[] { -30.0, -6, -1 })
        {
            (float[] left, float[] right) = Limited(Sound(sound), ceiling);
            double largest = Math.Max(left.Max(MathF.Abs), right.Max(MathF.Abs));
            Assert.InRange(20 * Math.Log10(largest), double.NegativeInfinity, ceiling + SampleToleranceDb);
        }
    }

    [Theory]
    [MemberData(nameof(Sounds))]
    public void PeakBetweenSamplesStaysAtTheCeilingToo(string sound)
    {
        // The project's figure for a limiter: at most 0.1 dB over on any signal.
        foreach (int sampleRate in new[] { 44_100, 48_000, 192_000 })
        {
            (float[] left, float[] right) = Limited(Sound(sound), -6, sampleRate);
            PrecisePeakMeter meter = new();
            meter.Add(left, right);
            meter.Finish();
            Assert.InRange(meter.TruePeakDbtp, double.NegativeInfinity, -6 + TruePeakToleranceDb);
        }
    }

    [Fact]
    public void SoundBelowTheCeilingIsLeftAlone()
    {
        float[] music = Sound("music");
        float scale = 0.4f / music.Max(MathF.Abs);
        float[] soft = [.. music.Select(x => scale * x)];
        MonitorPath path = MonitorRun.With(MonitorRun.Plain);
        (float[] left, float[] right) = MonitorRun.Through(path, soft, soft);
        Assert.Equal(soft[..^path.LatencyFrames], left[path.LatencyFrames..]);
        Assert.Equal(left, right);
        Assert.Equal(0, path.SafetyReductionDb);
    }

    [Fact]
    public void BothSidesAreTurnedDownTogether()
    {
        float[] loud = TestSignals.Sine(SampleRate, 440, SampleRate, 2);
        float[] soft = TestSignals.Sine(SampleRate, 440, SampleRate, 0.2);
        (float[] left, float[] right) = MonitorRun.Through(MonitorRun.With(MonitorRun.Plain), loud, soft);
        for (int i = SampleRate / 2; i < SampleRate; i++)
        {
            Assert.Equal(left[i] / 10, right[i], 1e-6f);
        }
    }

    [Theory]
    [InlineData(float.NaN)]
    [InlineData(float.PositiveInfinity)]
    [InlineData(float.NegativeInfinity)]
    public void SampleThatIsNotFiniteIsCountedAndFadesToSilenceAndBack(float broken)
    {
        float[] left = TestSignals.Sine(SampleRate, 200, SampleRate, 0.4);
        float[] right = [.. left];
        left[20_000] = broken;
        right[20_000] = broken;
        left[20_100] = broken;
        MonitorPath path = MonitorRun.With(MonitorRun.Plain);
        (float[] outLeft, float[] outRight) = MonitorRun.Through(path, left, right);
        Assert.Equal(3, path.NonFiniteSamples);
        Assert.All(outLeft.Concat(outRight), sample => Assert.True(float.IsFinite(sample)));

        // The sine's steepest step, and that of a fade of 480 frames over at most 0.4: π/2 · 0.4 / 480.
        double steepest = 0.4 * (2 * Math.PI * 200 / SampleRate + Math.PI / 2 / 480);
        Assert.All(outLeft.Zip(outLeft.Skip(1)), pair => Assert.InRange(MathF.Abs(pair.Second - pair.First), 0, steepest));

        // Silent from the end of the fade until 10 ms after the last broken sample; whole again 10 ms later.
        int latency = path.LatencyFrames;
        Assert.All(outLeft[(20_480 + latency)..(20_580 + latency)], sample => Assert.Equal(0, sample, 1e-6f));
        Assert.Equal(left[21_061], outLeft[21_061 + latency], 1e-6f);
    }

    [Fact]
    public void NothingButBrokenSamplesIsSilence()
    {
        float[] nan = [.. Enumerable.Repeat(float.NaN, 10_000)];
        MonitorPath path = MonitorRun.With(MonitorRun.Plain);
        (float[] left, _) = MonitorRun.Through(path, nan, nan);
        Assert.All(left, sample => Assert.Equal(0, sample));
        Assert.Equal(20_000, path.NonFiniteSamples);
    }

    [Fact]
    public void LimiterByItselfCatchesBrokenSamplesToo()
    {
        SafetyLimiter limiter = new(SampleRate, 32, 480);
        limiter.Reset(-6);
        float[] left = [.. Enumerable.Repeat(float.NaN, 32)];
        float[] right = new float[32];
        limiter.StartStep();
        limiter.Process(left, right);
        limiter.EndStep();
        Assert.Equal(32, limiter.Caught);
        Assert.All(left, sample => Assert.Equal(0, sample));
    }

    [Theory]
    [InlineData(0.0, -1.0)]
    [InlineData(-3.0, -3.0)]
    [InlineData(-90.0, -30.0)]
    [InlineData(double.PositiveInfinity, -1.0)]
    public void CeilingStaysWithinItsRange(double asked, double held)
    {
        float[] steady = Sound("direct current");
        MonitorPath path = MonitorRun.With(MonitorRun.Plain with { SafetyCeilingDbfs = asked });
        (float[] left, _) = MonitorRun.Through(path, steady, steady);
        Assert.Equal(held, 20 * Math.Log10(left.Max(MathF.Abs)), 0.01);
    }

    [Fact]
    public void MovingCeilingIsHeldByWhatComesInUnderIt()
    {
        float[] steady = Sound("direct current");
        MonitorPath path = MonitorRun.With(MonitorRun.Plain with { SafetyCeilingDbfs = -1 });
        (float[] left, _) = MonitorRun.Through(
            path, steady, steady, 48, start => start == 24_000 ? MonitorRun.Plain with { SafetyCeilingDbfs = -20 } : null);
        Assert.Equal(-1, 20 * Math.Log10(left.Max(MathF.Abs)), 0.05);

        // 10 ms for the ceiling, one control step before it sets off, and the sound that is inside.
        int settled = 24_000 + 480 + 32 + path.LatencyFrames;
        Assert.InRange(20 * Math.Log10(left[settled..].Max(MathF.Abs)), -20.01, -20 + SampleToleranceDb);
    }

    private static (float[] Left, float[] Right) Limited(float[] sound, double ceiling, int sampleRate = SampleRate)
    {
        MonitorPath path = MonitorRun.With(MonitorRun.Plain with { SafetyCeilingDbfs = ceiling }, sampleRate);

        // Silence behind it: the sound's end is an edge like any other.
        float[] one = [.. sound, .. new float[4800]];
        float[] other = [.. one.Select(x => -0.7f * x)];
        return MonitorRun.Through(path, one, other, 128);
    }

    private static float[] Sound(string name) => name switch
    {
        "square" => TestSignals.Square(SampleRate, 109, 1000),
        "deep square" => TestSignals.Square(SampleRate, 2400, 1000),
        "direct current" => [.. Enumerable.Repeat(1000f, SampleRate)],
        "noise" => TestSignals.WhiteNoise(SampleRate, 1, 10),
        "random signs" => TestSignals.RandomSigns(SampleRate, 2, 1000),
        "turning alternation" => TestSignals.TurningAlternation(SampleRate, 40, 30),
        "clicks" => TestSignals.Clicks(SampleRate, 1000, 1000),
        "music" => TestSignals.MusicLike(SampleRate, 3, 3),
        "gated tone" => TestSignals.Gated(TestSignals.Sine(SampleRate, 997, SampleRate, 1000), 500, 1000),
        "highest tone" => TestSignals.Sine(SampleRate, 21_000, SampleRate, 20),
        "single step" => [.. Enumerable.Range(0, SampleRate).Select(i => i < 10_000 ? 0.1f : -300f)],
        _ => [.. Enumerable.Range(0, SampleRate).Select(i => i / 50 % 2 == 0 ? float.MaxValue : -float.MaxValue)],
    };
}
