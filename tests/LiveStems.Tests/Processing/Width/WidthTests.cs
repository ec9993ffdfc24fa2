using LiveStems.Dsp;
using LiveStems.Processing.Processors.Width;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Processing.Width;

public class WidthTests
{
    private const int SampleRate = 48_000;

    [Fact]
    public void HundredPerCentEverywherePassesEveryBit()
    {
        float[] left = TestSignals.WhiteNoise(10_000, 1, 0.7);
        float[] right = TestSignals.WhiteNoise(10_000, 2, 0.7);
        (float[] l, float[] r) = ProcessorRun.Through(Prepared(100, 100, 100), left, right);
        Assert.Equal(left, l);
        Assert.Equal(right, r);
    }

    // Sums and differences of floats up to 1.4: a few of their last places, 1.2e-7 each.
    [Theory]
    [InlineData(0, 0, 0)]
    [InlineData(50, 120, 200)]
    [InlineData(200, 0, 150)]
    public void TheMonoSumStaysWhateverTheWidth(double low, double middle, double high)
    {
        float[] left = TestSignals.WhiteNoise(10_000, 1, 0.7);
        float[] right = TestSignals.WhiteNoise(10_000, 2, 0.7);
        (float[] l, float[] r) = ProcessorRun.Through(Prepared(low, middle, high, ("monoBelow", 1), ("lowestCorrelation", 0.2)), left, right);
        for (int n = 0; n < left.Length; n++)
        {
            Assert.Equal(left[n] + right[n], l[n] + r[n], 1e-6f);
        }
    }

    // Two octaves from a crossover of fourth order the other band has a share of 4^-8 of the power.
    [Theory]
    [InlineData(60, 0.5)]
    [InlineData(1000, 1.3)]
    [InlineData(16_000, 2)]
    public void EachBandOfTheSideGetsItsWidth(double frequencyHz, double gain)
    {
        float[] tone = TestSignals.Sine(SampleRate, frequencyHz, SampleRate, 0.2);
        float[] inverse = [.. tone.Select(x => -x)];
        (float[] l, float[] r) = ProcessorRun.Through(Prepared(50, 130, 200), tone, inverse);
        Assert.Equal(Decibels.FromAmplitude(gain), RmsDb(l) - RmsDb(tone), 0.01);
        Assert.Equal(Decibels.FromAmplitude(gain), RmsDb(r) - RmsDb(tone), 0.01);
    }

    // Linkwitz-Riley of fourth order: 1 / (1 + (f0/f)⁴), −6.02 dB at its corner (REFERENCES section 4).
    [Theory]
    [InlineData(50)]
    [InlineData(100)]
    [InlineData(200)]
    [InlineData(1000)]
    public void MonoBelowIsALinkwitzRileyHighPassOfTheSide(double frequencyHz)
    {
        float[] tone = TestSignals.Sine(SampleRate, frequencyHz, SampleRate, 0.2);
        float[] inverse = [.. tone.Select(x => -x)];
        (float[] l, _) = ProcessorRun.Through(Prepared(100, 100, 100, ("monoBelow", 1), ("monoBelowHz", 100)), tone, inverse);
        Assert.Equal(-Decibels.FromAmplitude(1 + Math.Pow(100 / frequencyHz, 4)), RmsDb(l) - RmsDb(tone), 0.02);
    }

    // Noises of mid and side without relation; the window of 100 ms sees their powers within a few per cent, and the gain
    // falls faster than it rises, which leaves the correlation above the floor rather than below.
    [Fact]
    public void TheGuardHoldsTheCorrelation()
    {
        float[] middle = TestSignals.WhiteNoise(10 * SampleRate, 3, 0.2);
        float[] side = TestSignals.WhiteNoise(10 * SampleRate, 4, 0.6);
        float[] left = [.. middle.Zip(side, (m, s) => m + s)];
        float[] right = [.. middle.Zip(side, (m, s) => m - s)];
        Assert.True(Correlation(left, right) < -0.7);
        WidthProcessor processor = Prepared(100, 100, 100, ("lowestCorrelation", 0.2));
        (float[] l, float[] r) = ProcessorRun.Through(processor, left, right);
        Assert.InRange(Correlation(l[SampleRate..], r[SampleRate..]), 0.2, 0.25);

        // By the definition: (M − q S) / (M + q S) = 0.2 with M/S = 1/9.
        Assert.Equal(10 * Math.Log10(0.8 / 1.2 / 9), processor.GainReductionDb, 0.5);
    }

    private static WidthProcessor Prepared(double low, double middle, double high, params (string, double)[] others) =>
        ProcessorRun.Prepared<WidthProcessor>(
            SampleRate, [("lowPercent", low), ("middlePercent", middle), ("highPercent", high), ("lowestCorrelation", -1), .. others]);

    private static double RmsDb(float[] sound) => Decibels.FromPower(sound.Skip(24_000).Average(x => (double)x * x));

    private static double Correlation(float[] left, float[] right)
    {
        double product = left.Zip(right, (l, r) => (double)l * r).Sum();
        return product / Math.Sqrt(left.Sum(x => (double)x * x) * right.Sum(x => (double)x * x));
    }
}
