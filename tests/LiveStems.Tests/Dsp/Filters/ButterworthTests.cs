using System.Numerics;
using LiveStems.Dsp;
using LiveStems.Dsp.Filters;
using Xunit;

namespace LiveStems.Tests.Dsp.Filters;

public class ButterworthTests
{
    // REFERENCES section 4, computed there.
    [Theory]
    [InlineData(2, 0, 0.707107)]
    [InlineData(3, 0, 1.000000)]
    [InlineData(4, 0, 1.306563)]
    [InlineData(4, 1, 0.541196)]
    [InlineData(5, 0, 1.618034)]
    [InlineData(5, 1, 0.618034)]
    [InlineData(6, 1, 0.707107)]
    [InlineData(7, 0, 2.246980)]
    [InlineData(7, 2, 0.554958)]
    [InlineData(8, 0, 2.562915)]
    [InlineData(8, 3, 0.509796)]
    public void PolePairsHaveTheKnownQ(int order, int pair, double q) =>
        Assert.Equal(q, Butterworth.PairQ(order, pair), 0.6e-6);

    // |H|² = 1 / (1 + Ω^2N) with Ω = tan(ω/2) / tan(ω0/2): the definition, through the bilinear transform.
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(5)]
    [InlineData(8)]
    public void MagnitudeIsMaximallyFlat(int order)
    {
        BiquadCoefficients[] low = new BiquadCoefficients[Butterworth.SectionCount(order)];
        BiquadCoefficients[] high = new BiquadCoefficients[low.Length];
        Butterworth.LowPass(order, 2000, 48000, low);
        Butterworth.HighPass(order, 2000, 48000, high);
        foreach (double f in new double[] { 50, 500, 1900, 2000, 2100, 8000 })
        {
            double ratio = Math.Tan(Math.PI * f / 48000) / Math.Tan(Math.PI * 2000 / 48000);
            Assert.Equal(-Decibels.FromPower(1 + Math.Pow(ratio, 2 * order)), GainDb(low, f), 1e-9);
            Assert.Equal(-Decibels.FromPower(1 + Math.Pow(ratio, -2 * order)), GainDb(high, f), 1e-6);
        }
    }

    internal static Complex Response(ReadOnlySpan<BiquadCoefficients> sections, double frequencyHz)
    {
        Complex product = 1;
        foreach (BiquadCoefficients section in sections)
        {
            product *= section.Response(2 * Math.PI * frequencyHz / 48000);
        }

        return product;
    }

    internal static double GainDb(ReadOnlySpan<BiquadCoefficients> sections, double frequencyHz) =>
        Decibels.FromAmplitude(Complex.Abs(Response(sections, frequencyHz)));
}
