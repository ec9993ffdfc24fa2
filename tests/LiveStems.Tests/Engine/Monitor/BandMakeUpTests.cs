using LiveStems.Dsp.Loudness;
using LiveStems.Engine.Monitor;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Engine.Monitor;

/// <summary>Loudness of the band with its make-up, by the meter of BS.1770 and EBU Tech 3341, beside that of the whole.</summary>
public class BandMakeUpTests
{
    private const int SampleRate = 48_000;
    private const int Hop = 480;
    private const int Seconds = 10;
    private const double Gate = -70;

    // Loudness differences below 0.1 LU are not heard (common practice: match within 0.1 to 0.2 LU).
    private const double ToleranceLu = 0.1;

    private static readonly float[] White = TestSignals.WhiteNoise(Seconds * SampleRate, 1, 0.1);
    private static readonly float[] Music = TestSignals.MusicLike(Seconds * SampleRate, 2, 0.2);
    private static readonly float[] LowTone = TestSignals.Sine(Seconds * SampleRate, 300, SampleRate, 0.1);

    public static TheoryData<string, double, double> Sounds() => new()
    {
        { "white", 100, 1 }, { "white", 3000, 1 }, { "white", 1000, 1.0 / 12 }, { "white", 12_000, 4 },
        { "music", 60, 0.5 }, { "music", 300, 1 }, { "music", 3000, 1 }, { "music", 12_000, 1 },
        { "sine in the band", 1000, 1 }, { "sine at the edge", 1500, 1 }, { "sine out of the band", 8000, 1 },
        { "bursts over a tone", 8000, 1 }, { "rare soft bursts over a tone", 8000, 1 }, { "tone that hops into the band", 8000, 2 },
        { "noise that grows in the band", 8000, 3 }, { "hits in silence", 8000, 1 }, { "hits in silence", 200, 0.5 },
        { "music that stops and starts", 3000, 1 },
    };

    [Theory]
    [MemberData(nameof(Sounds))]
    public void BandIsNeverLouderThanTheWholeWas(string sound, double centreHz, double widthOctaves)
    {
        (double[] whole, double[] band) = Loudness(Sound(sound), centreHz, widthOctaves);
        Assert.All(Enumerable.Range(0, band.Length), i => Assert.InRange(band[i], double.NegativeInfinity, Recent(whole, i) + ToleranceLu));
    }

    [Theory]
    [InlineData(3000, 1.0)]
    [InlineData(3000, 1.0 / 3)]
    [InlineData(10_000, 1.0)]
    [InlineData(2000, 2.0)]
    public void BandOfNoiseComesUpToTheLoudnessOfTheWhole(double centreHz, double widthOctaves)
    {
        // The steady make-up aims 1 dB below; the momentary loudness of a band a third of an octave wide swings by
        // 4.34 / √(700 Hz · 0.4 s) = 0.26 dB (standard deviation, REFERENCES section 7), so the lows reach 1 dB deeper.
        (double[] whole, double[] band) = Loudness(White, centreHz, widthOctaves);
        double difference = Enumerable.Range(500, band.Length - 500).Average(i => band[i] - whole[i]);
        Assert.InRange(difference, -2.2, -0.9);
    }

    [Fact]
    public void SineInTheBandStaysAsLoudAsItIs()
    {
        (double[] whole, double[] band) = Loudness(Sound("sine in the band"), 1000, 1);

        // Half an octave from each edge of order 8 the filter takes away 10 log(1 + 2^−8) = 0.017 dB twice.
        Assert.Equal(whole[^1] - 0.034, band[^1], 0.01);
    }

    [Fact]
    public void SineAtTheEdgeIsBroughtBack()
    {
        // 1.5 kHz · 2^−½ = 1060.7 Hz: 1 kHz is 10 log(1 + 1.0607^16) = 5.53 dB down, and comes back to 1 dB below.
        MonitorPath path = MonitorRun.With(MonitorRun.Plain with { BandListen = true, BandCentreHz = 1500 });
        float[] tone = Sound("sine at the edge");
        (float[] left, _) = MonitorRun.Through(path, tone, tone);
        Assert.Equal(4.53, path.BandMakeUpDb, 0.05);
        Assert.Equal(0.1 * Math.Pow(10, -1 / 20.0), left.TakeLast(4800).Max(), 0.001);
    }

    [Fact]
    public void BandThatHoldsNothingStaysSilentAtTheLimit()
    {
        MonitorPath path = MonitorRun.With(MonitorRun.Plain with { BandListen = true, BandCentreHz = 8000 });
        (float[] left, _) = MonitorRun.Through(path, LowTone, LowTone);
        Assert.Equal(24, path.BandMakeUpDb, 1e-6);

        // 300 Hz is 4.2 octaves below the edge at 5657 Hz: 203 dB down. What is left is single precision's rounding of the
        // filter's output, and far below −120 dBFS with 24 dB of make-up.
        Assert.InRange(left.TakeLast(48_000).Max(MathF.Abs), 0, 1e-6f);
    }

    [Fact]
    public void SoftNoiseInTheBandIsRaisedByTheLimitAndNoMore()
    {
        float[] sound = [.. LowTone.Zip(TestSignals.Sine(LowTone.Length, 8000, SampleRate, 0.0005), (low, high) => low + high)];
        MonitorPath path = MonitorRun.With(MonitorRun.Plain with { BandListen = true, BandCentreHz = 8000 });
        (float[] left, _) = MonitorRun.Through(path, sound, sound);

        // Half an octave from each edge the filter takes away 0.017 dB.
        double rms = Math.Sqrt(left.TakeLast(4800).Average(x => (double)x * x));
        Assert.Equal(20 * Math.Log10(0.0005 / Math.Sqrt(2)) + 24 - 0.034, 20 * Math.Log10(rms), 0.01);
    }

    [Fact]
    public void MakeUpStandsStillBetweenRegularHits()
    {
        float[] sound = Sound("hits in silence");
        MonitorPath path = MonitorRun.With(MonitorRun.Plain with { BandListen = true, BandCentreHz = 8000 });
        List<double> seen = [];
        MonitorRun.Through(path, sound, sound, 480, start =>
        {
            seen.Add(path.BandMakeUpDb);
            return null;
        });
        double[] late = [.. seen.Skip(seen.Count / 2)];
        Assert.InRange(late.Max() - late.Min(), 0, 2);
        Assert.InRange(late.Min(), 2, 24);
    }

    [Theory]
    [InlineData(50.0)]
    [InlineData(100.0)]
    [InlineData(400.0)]
    public void SteadyNoteIsRaisedWithoutFlutter(double noteHz)
    {
        // A note 14 dB under a tone that the filter takes away; what the gain's movement would add to it lies at sums and
        // differences with multiples of twice its frequency.
        float[] note = TestSignals.Sine(LowTone.Length, noteHz, SampleRate, 0.02);
        float[] sound = Sum(note, TestSignals.Sine(LowTone.Length, 9000, SampleRate, 0.1));
        MonitorPath path = MonitorRun.With(MonitorRun.Plain with { BandListen = true, BandCentreHz = noteHz });
        (float[] left, _) = MonitorRun.Through(path, sound, sound);
        Assert.InRange(path.BandMakeUpDb, 10, 24);

        // Over whole periods, the rest after the best-fitting sine is taken away.
        double[] late = [.. left.TakeLast(48_000).Select(x => (double)x)];
        double inPhase = 0;
        double quadrature = 0;
        for (int i = 0; i < late.Length; i++)
        {
            inPhase += late[i] * Math.Sin(2 * Math.PI * noteHz * i / SampleRate) * 2 / late.Length;
            quadrature += late[i] * Math.Cos(2 * Math.PI * noteHz * i / SampleRate) * 2 / late.Length;
        }

        double rest = Math.Sqrt(late.Select((x, i) => x - inPhase * Math.Sin(2 * Math.PI * noteHz * i / SampleRate) - quadrature * Math.Cos(2 * Math.PI * noteHz * i / SampleRate))
            .Average(x => x * x));
        double level = Math.Sqrt((inPhase * inPhase + quadrature * quadrature) / 2);
        Assert.InRange(20 * Math.Log10(rest / level), double.NegativeInfinity, -80);
    }

    [Fact]
    public void MovingFromASoftBandToALoudOneDoesNotShout()
    {
        MonitorSettings soft = MonitorRun.Plain with { BandListen = true, BandCentreHz = 14_000, BandWidthOctaves = 0.5 };
        MonitorPath path = MonitorRun.With(soft);
        (float[] left, float[] right) = MonitorRun.Through(
            path, Music, Music, 64, start => start == 5 * SampleRate / 64 * 64 ? soft with { BandCentreHz = 100, BandWidthOctaves = 2 } : null);
        double[] whole = Momentary(Music, Music, 0);
        double[] band = Momentary(left, right, path.LatencyFrames);
        Assert.All(Enumerable.Range(0, band.Length), i => Assert.InRange(band[i], double.NegativeInfinity, Recent(whole, i) + ToleranceLu));
    }

    private static float[] Sound(string name) => name switch
    {
        "white" => White,
        "music" => Music,
        "sine in the band" or "sine at the edge" or "sine out of the band" => TestSignals.Sine(Seconds * SampleRate, 1000, SampleRate, 0.1),
        "bursts over a tone" => Sum(LowTone, TestSignals.Gated(TestSignals.Sine(LowTone.Length, 8000, SampleRate, 0.3), 4800, 43_200)),
        "rare soft bursts over a tone" => Sum(LowTone, TestSignals.Gated(TestSignals.WhiteNoise(LowTone.Length, 3, 0.1), 24_000, 168_000)),
        "tone that hops into the band" => [.. LowTone.Select((low, i) => i / 72_000 % 2 == 0 ? 2 * low : 0.14f * MathF.Sin(MathF.Tau * (i % 6) / 6))],
        "noise that grows in the band" => Sum(LowTone, Shaped(White, t => Math.Exp(3 * (t % 4) - 9))),
        "hits in silence" => Shaped(White, t => 5 * Math.Exp(-(t % 0.5) / 0.03)),
        _ => TestSignals.Gated(Music, SampleRate, SampleRate),
    };

    private static float[] Sum(float[] one, float[] other) => [.. one.Zip(other, (a, b) => a + b)];

    private static float[] Shaped(float[] sound, Func<double, double> gain) => [.. sound.Select((x, i) => (float)(x * gain((double)i / SampleRate)))];

    private static (double[] Whole, double[] Band) Loudness(float[] sound, double centreHz, double widthOctaves)
    {
        MonitorPath path = MonitorRun.With(MonitorRun.Plain with { BandListen = true, BandCentreHz = centreHz, BandWidthOctaves = widthOctaves, SafetyCeilingDbfs = -1 });
        (float[] left, float[] right) = MonitorRun.Through(path, sound, sound);
        return (Momentary(sound, sound, 0), Momentary(left, right, path.LatencyFrames));
    }

    // The momentary loudness every 10 ms, nothing below the gate.
    private static double[] Momentary(float[] left, float[] right, int skip)
    {
        LoudnessMeter meter = new(SampleRate);
        List<double> readings = [];
        for (int start = skip; start + Hop <= left.Length; start += Hop)
        {
            meter.Add(left.AsSpan(start, Hop), right.AsSpan(start, Hop));
            readings.Add(Math.Max(Gate, meter.MomentaryLufs));
        }

        return [.. readings];
    }

    // The highest loudness of the whole within the last 0.45 s: a window of 400 ms and the filter's own delay.
    private static double Recent(double[] whole, int at) => whole.Skip(Math.Max(0, at - 45)).Take(Math.Min(at, 45) + 1).Max();
}
