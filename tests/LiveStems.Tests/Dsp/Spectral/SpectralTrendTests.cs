using LiveStems.Dsp;
using LiveStems.Dsp.Spectral;
using Xunit;

namespace LiveStems.Tests.Dsp.Spectral;

public class SpectralTrendTests
{
    private const double BinHz = 48_000 / 2048.0;

    // Glasberg and Moore 1990, values in REFERENCES section 6.3.
    [Theory]
    [InlineData(100, 35.494)]
    [InlineData(1000, 132.639)]
    [InlineData(16_000, 1751.724)]
    public void BandwidthIsThatOfGlasbergAndMoore(double frequencyHz, double bandwidthHz) =>
        Assert.Equal(bandwidthHz, ErbScale.BandwidthHz(frequencyHz), 3);

    [Fact]
    public void FlatSpectrumIsItsOwnTrend()
    {
        float[] power = new float[1025];
        Array.Fill(power, 0.37f);
        Assert.All(Trend(power), value => Assert.Equal(0.37f, value, 1e-6f));
    }

    // One bin of 1000 among ones, where the stretch is 31 bins: the first mean is 33.2, each after it (30 + twice the one
    // before) / 31, that is 3.1, 1.17 and 1.043, 0.18 dB.
    [Fact]
    public void LonePeakHardlyRaisesTheTrend()
    {
        float[] power = new float[1025];
        Array.Fill(power, 1f);
        power[85] = 1000;
        Assert.InRange(Decibels.FromPower(Trend(power)[85]), 0.15, 0.25);
        Assert.InRange(Decibels.FromPower(Trend(power)[130]), -0.01, 0.01);
    }

    // The fixed point of T = 1 − e^(−2T) is 0.797, by iteration.
    [Fact]
    public void TrendOfNoiseLiesJustBelowItsMean()
    {
        Random random = new(1);
        double sum = 0;
        for (int run = 0; run < 50; run++)
        {
            float[] power = [.. Enumerable.Range(0, 1025).Select(_ => (float)-Math.Log(1 - random.NextDouble()))];
            sum += Trend(power)[600..].Average();
        }

        Assert.InRange(sum / 50, 0.78, 0.84);
    }

    private static float[] Trend(float[] power)
    {
        float[] trend = new float[power.Length];
        new SpectralTrend(power.Length, BinHz).Compute(power, trend);
        return trend;
    }
}
