using LiveStems.Dsp.Loudness;
using Xunit;

namespace LiveStems.Conformance.Loudness;

/// <summary>
/// EBU Tech 3341 (V4, November 2023) Table 1, signals 15 to 23: true peaks, tolerance +0.2/−0.4 dB. The signals are
/// given as fractions of the sample rate.
/// </summary>
public class Tech3341TruePeakTests
{
    private const double Above = 0.2;
    private const double Below = 0.4;

    // What the reference meter promises up to 0.45 of the sample rate.
    private const double PreciseTolerance = 0.02;

    [Theory]
    [InlineData(15, 4, 0.50, 0.0, -6.0)]
    [InlineData(16, 4, 0.50, 45.0, -6.0)]
    [InlineData(17, 6, 0.50, 60.0, -6.0)]
    [InlineData(18, 8, 0.50, 67.5, -6.0)]
    [InlineData(19, 4, 1.41, 45.0, 3.0)]
    public void Cases15To19TonesOfWholeFractionsOfTheSampleRate(int number, int period, double amplitude, double phase, double expected)
    {
        Assert.InRange(number, 15, 19);
        foreach (int sampleRate in (int[])[44_100, 48_000, 96_000, 192_000])
        {
            float[] tone = InterSampleSignals.TaperedTone(sampleRate, 1.0 / period, amplitude, phase);
            AssertTruePeak(expected, tone);
            Assert.Equal(20 * Math.Log10(amplitude), PrecisePeak(tone), PreciseTolerance);
        }
    }

    [Theory]
    [InlineData(20, 0)]
    [InlineData(21, 1)]
    [InlineData(22, 2)]
    [InlineData(23, 3)]
    public void Cases20To23OnePeriodAtFullScaleAtEveryOffset(int number, int offset)
    {
        Assert.InRange(number, 20, 23);
        foreach (int sampleRate in (int[])[44_100, 48_000, 96_000, 192_000])
        {
            AssertTruePeak(0, InterSampleSignals.ShortBurst(sampleRate, offset));
        }
    }

    [Fact]
    public void Cases20To23AreOneSoundToThePreciseMeter()
    {
        // The four files are the same band-limited wave, sampled at four offsets.
        double[] peaks = [.. Enumerable.Range(0, 4).Select(offset => PrecisePeak(InterSampleSignals.ShortBurst(48_000, offset)))];
        Assert.All(peaks, peak => Assert.Equal(peaks[0], peak, PreciseTolerance));
        Assert.InRange(peaks[0], -Below, Above);
    }

    private static double PrecisePeak(float[] samples)
    {
        PrecisePeakMeter meter = new();
        meter.Add(samples, samples);
        meter.Finish();
        return meter.TruePeakDbtp;
    }

    private static void AssertTruePeak(double expected, float[] samples)
    {
        TruePeakMeter meter = new();
        meter.Add(samples, samples);
        meter.Finish();
        Assert.InRange(meter.TruePeakDbtp, expected - Below, expected + Above);
        Assert.Equal(meter.LeftTruePeakDbtp, meter.RightTruePeakDbtp);
    }
}
