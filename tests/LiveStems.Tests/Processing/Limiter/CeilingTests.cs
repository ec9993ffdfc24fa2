using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.Limiter;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Processing.Limiter;

public class CeilingTests
{
    private const int SampleRate = 48_000;
    private const int Frames = 24_000;

    // What the processor promises over its ceiling on any sound, as an independent sixteenfold meter sees it.
    private const double ToleranceDb = 0.1;

    private static readonly Dictionary<string, Func<float[]>> Sounds = new()
    {
        ["music-like noise"] = () => TestSignals.MusicLike(Frames, 1, 2),
        ["square wave of 100 Hz"] = () => TestSignals.Square(Frames, 480),
        ["square wave of 3.1 kHz"] = () => TestSignals.Square(Frames, 15.5),
        ["quarter-rate sine at 45 degrees"] = () => TestSignals.Sine(Frames, SampleRate / 4.0, SampleRate, 1.4142, Math.PI / 4),
        ["gated quarter-rate sine"] = () => TestSignals.Gated(TestSignals.Sine(Frames, SampleRate / 4.0, SampleRate, 1.4142, Math.PI / 4), 700, 900),
        ["clicks"] = () => TestSignals.Clicks(Frames, 777, 4),
        ["dense clicks"] = () => TestSignals.Clicks(Frames, 37, 4),
        ["random walk"] = () => TestSignals.RandomWalk(Frames, 2, 0.3, 2),
        ["white noise"] = () => TestSignals.WhiteNoise(Frames, 3),
        ["gated white noise"] = () => TestSignals.Gated(TestSignals.WhiteNoise(Frames, 4), 300, 1200),
        ["sweep to 20 kHz"] = () => TestSignals.Sweep(Frames, 20, 20_000, SampleRate),
        ["sweep through the band edge"] = () => TestSignals.Sweep(Frames, 15_000, 23_999, SampleRate),
        ["bursts of 1 kHz"] = () => TestSignals.Gated(TestSignals.Sine(Frames, 1000, SampleRate, 3), 500, 1500),
        ["bursts of 15 kHz"] = () => TestSignals.Gated(TestSignals.Sine(Frames, 15_000, SampleRate, 3), 500, 1500),
        ["bursts of 23.5 kHz"] = () => TestSignals.Gated(TestSignals.Sine(Frames, 23_500, SampleRate), 265, 13),
        ["bursts of 23.2 kHz"] = () => TestSignals.Gated(TestSignals.Sine(Frames, 23_180, SampleRate), 45, 206),
        ["turning alternation, 16"] = () => TestSignals.TurningAlternation(Frames, 16),
        ["turning alternation, 101"] = () => TestSignals.TurningAlternation(Frames, 101),
        ["turning alternation, 4000"] = () => TestSignals.TurningAlternation(Frames, 4000),
        ["random signs"] = () => TestSignals.RandomSigns(Frames, 5),
        ["gated random signs"] = () => TestSignals.Gated(TestSignals.RandomSigns(Frames, 6), 120, 200),
    };

    public static TheoryData<string, double> Tortures()
    {
        TheoryData<string, double> cases = [];
        foreach (string sound in Sounds.Keys)
        {
            cases.Add(sound, 0);
            cases.Add(sound, 18);
        }

        return cases;
    }

    [Theory]
    [MemberData(nameof(Tortures))]
    public void TruePeakNeverPassesTheCeiling(string sound, double driveDb)
    {
        float[] signal = WithTail(Sounds[sound]());
        LimiterProcessor limiter = ProcessorRun.Prepared<LimiterProcessor>(SampleRate, ("inputGainDb", driveDb));
        (float[] left, _) = ProcessorRun.Through(limiter, signal, signal);
        Assert.True(limiter.LatencyFrames < 2048, "the tail holds what is still inside");
        Assert.InRange(SixteenfoldPeakMeter.PeakDbtp(left), -20, -1 + ToleranceDb);
    }

    [Fact]
    public void RandomSettingsAndRandomSoundsStayFiniteAndBelowTheCeiling()
    {
        Random random = new(11);
        string[] names = [.. Sounds.Keys];
        for (int i = 0; i < 60; i++)
        {
            string name = names[random.Next(names.Length)];
            double ceiling = -20 * random.NextDouble();
            float[] signal = WithTail(Sounds[name]().AsSpan(0, 6000));
            float[] other = WithTail(Sounds[names[random.Next(names.Length)]]().AsSpan(0, 6000));
            LimiterProcessor limiter = ProcessorRun.Prepared<LimiterProcessor>(
                SampleRate,
                ("ceilingDbtp", ceiling),
                ("inputGainDb", 24 * random.NextDouble()),
                ("releaseMs", Math.Pow(1000, random.NextDouble())),
                ("adaptiveRelease", random.Next(2)),
                ("linkPercent", 100 * random.Next(3) / 2.0),
                ("lookAhead", random.Next(5)));
            (float[] left, float[] right) = ProcessorRun.Through(limiter, signal, other, random.Next(1, 900));
            Assert.All(left, value => Assert.True(float.IsFinite(value)));
            Assert.All(right, value => Assert.True(float.IsFinite(value)));
            Assert.True(SixteenfoldPeakMeter.PeakDbtp(left) <= ceiling + ToleranceDb, $"round {i}: {name}");
            Assert.True(SixteenfoldPeakMeter.PeakDbtp(right) <= ceiling + ToleranceDb, $"round {i}, right");
        }
    }

    [Theory]
    [InlineData(8_000)]
    [InlineData(44_100)]
    [InlineData(96_000)]
    [InlineData(384_000)]
    public void TheCeilingHoldsAtEverySampleRate(int sampleRate)
    {
        foreach (float[] sound in new[] { TestSignals.MusicLike(8000, 1, 2), TestSignals.WhiteNoise(8000, 1), TestSignals.Clicks(8000, 500, 4) })
        {
            float[] signal = [.. sound, .. new float[8192]];
            LimiterProcessor limiter = ProcessorRun.Prepared<LimiterProcessor>(sampleRate, ("inputGainDb", 6), ("lookAhead", 4));
            (float[] left, _) = ProcessorRun.Through(limiter, signal, signal);
            Assert.InRange(SixteenfoldPeakMeter.PeakDbtp(left), -6, -1 + ToleranceDb);
        }
    }

    [Fact]
    public void AMovingCeilingIsHeldFromTheMomentThatTheSoundOfThenComesOut()
    {
        LimiterProcessor limiter = ProcessorRun.Prepared<LimiterProcessor>(SampleRate, ("inputGainDb", 12));
        float[] signal = TestSignals.MusicLike(48_000, 1, 2);
        float[] first = ProcessorRun.Through(limiter, signal[..24_000], signal[..24_000]).Left;
        limiter.SetParameter(limiter.Description.IndexOf("ceilingDbtp"), -9);
        float[] second = ProcessorRun.Through(limiter, signal[24_000..], signal[24_000..]).Left;
        int arrived = limiter.LatencyFrames + 480 + 64;
        Assert.InRange(SixteenfoldPeakMeter.PeakDbtp([.. first, .. second[..arrived]]), -2, -1 + ToleranceDb);

        // The cut itself rings in the meter, so its first samples fade in.
        float[] rest = second[arrived..];
        for (int n = 0; n < 200; n++)
        {
            rest[n] *= n / 200f;
        }

        Assert.InRange(SixteenfoldPeakMeter.PeakDbtp(WithTail(rest.AsSpan(0, 20_000).ToArray().Select((x, n) => x * Math.Min(1, (19_999 - n) / 200f)).ToArray())), -11, -9 + ToleranceDb);
    }

    [Fact]
    public void SoundThatIsNoNumberOrBeyondAllBoundsStaysBelowTheCeiling()
    {
        float[] signal = TestSignals.MusicLike(8192, 1);
        signal[1000] = float.NaN;
        signal[2000] = float.PositiveInfinity;
        signal[3000] = float.MinValue;
        LimiterProcessor limiter = ProcessorRun.Prepared<LimiterProcessor>(SampleRate, ("inputGainDb", 24));
        (float[] left, _) = ProcessorRun.Through(limiter, signal, signal);
        Assert.All(left, value => Assert.True(float.IsFinite(value)));
        Assert.InRange(SixteenfoldPeakMeter.PeakDbtp(left.AsSpan(0, 8000).ToArray().Select((x, n) => x * Math.Min(1, (7999 - n) / 200f)).ToArray()), -3, -1 + ToleranceDb);
    }

    private static float[] WithTail(ReadOnlySpan<float> sound)
    {
        // A sound that ends at full level rings behind its last sample; silence lets the limiter see that end.
        float[] signal = new float[sound.Length + 2048];
        sound.CopyTo(signal);
        return signal;
    }
}
