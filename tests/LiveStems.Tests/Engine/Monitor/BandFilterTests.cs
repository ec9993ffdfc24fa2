using System.Numerics;
using LiveStems.Engine.Monitor;
using Xunit;

namespace LiveStems.Tests.Engine.Monitor;

/// <summary>The band filter against Butterworth theory (S. Butterworth, 1930): |H|² = 1/(1 + (fc/f)^2n) · 1/(1 + (f/fc)^2n).</summary>
public class BandFilterTests
{
    // The frequency map of the design errs by less than 3.2e-4 in frequency up to 0.907 of half the sample rate (20 kHz at
    // 44.1 kHz). An edge of order 8 falls by at most 20 · 8 / ln 10 = 69.5 dB per unit of ln f, so by 0.022 dB; two edges.
    private const double ToleranceDb = 0.045;

    // The output's rounding to single precision errs by up to 1e-7 of the impulse, 0.01 dB at this level.
    private const double LowestDb = -80;

    public static TheoryData<int, int, double, double> Bands()
    {
        TheoryData<int, int, double, double> data = [];
        foreach (int sampleRate in new[] { 44_100, 48_000, 88_200, 96_000, 192_000 })
        {
            foreach (int order in new[] { 4, 8 })
            {
                data.Add(sampleRate, order, 20, 1.0 / 12);
                data.Add(sampleRate, order, 60, 4);
                data.Add(sampleRate, order, 1000, 1);
                data.Add(sampleRate, order, 6000, 1.0 / 3);
                data.Add(sampleRate, order, 10_000, 2);
                data.Add(sampleRate, order, 20_000, 1.0 / 12);
            }
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(Bands))]
    public void FollowsButterworthFrom20HzTo20Khz(int sampleRate, int order, double centreHz, double widthOctaves)
    {
        double[] response = ImpulseResponse(sampleRate, order, centreHz, widthOctaves);
        double lower = centreHz * Math.Pow(2, -widthOctaves / 2);
        double upper = Math.Min(centreHz * Math.Pow(2, widthOctaves / 2), 0.49 * sampleRate);
        for (double frequency = 20; frequency <= 20_000; frequency *= Math.Pow(2, 1.0 / 6))
        {
            double theoryDb = -10 * Math.Log10(1 + Math.Pow(lower / frequency, 2 * order)) - 10 * Math.Log10(1 + Math.Pow(frequency / upper, 2 * order));
            double measuredDb = GainDb(response, frequency, sampleRate);
            if (theoryDb > LowestDb)
            {
                Assert.Equal(theoryDb, measuredDb, ToleranceDb);
            }
            else
            {
                Assert.InRange(measuredDb, double.NegativeInfinity, LowestDb + ToleranceDb);
            }
        }
    }

    [Theory]
    [InlineData(4)]
    [InlineData(8)]
    public void EdgesAreThreeDecibelsDownAndFallAtTheirSlope(int order)
    {
        // An octave beyond the corner: 6.0206 dB an octave and order, but for 1/(1 + 4^−order) of it.
        double slopeDb = 6.0206 * order;
        // Two octaves out of a band of four, the other edge takes away less than 1e-4 dB.
        double[] response = ImpulseResponse(96_000, order, 1000, 4);
        Assert.Equal(-3.0103, GainDb(response, 250, 96_000), ToleranceDb);
        Assert.Equal(-3.0103, GainDb(response, 4000, 96_000), ToleranceDb);
        Assert.Equal(slopeDb, GainDb(response, 125, 96_000) - GainDb(response, 62.5, 96_000), 0.05);
        Assert.Equal(slopeDb, GainDb(response, 8000, 96_000) - GainDb(response, 16_000, 96_000), 0.05);
    }

    [Fact]
    public void BandBeyondHalfTheSampleRateStaysBelowIt()
    {
        BandEdges edges = BandEdges.Around(Math.Log2(20_000), 1.0 / 12, 16_000);
        Assert.Equal(0.49 * 16_000, edges.UpperHz, 1e-6);
        Assert.Equal(edges.UpperHz * Math.Pow(2, -1.0 / 12), edges.LowerHz, 1e-6);
    }

    private static double[] ImpulseResponse(int sampleRate, int order, double centreHz, double widthOctaves)
    {
        BandFilter filter = new(order, sampleRate);
        BandEdges edges = BandEdges.Around(Math.Log2(centreHz), widthOctaves, sampleRate);
        filter.Start(edges);

        // The slowest pole pairs have Q 2.56 and may nearly coincide: 20 periods let one decay by 213 dB.
        float[] left = new float[(int)(sampleRate * 20 / edges.LowerHz) + 1000];
        float[] right = new float[left.Length];
        left[0] = 1;
        right[0] = -1;
        filter.Process(left, right);
        Assert.Equal(left.Select(sample => -sample), right);
        return Array.ConvertAll(left, sample => (double)sample);
    }

    private static double GainDb(double[] response, double frequencyHz, int sampleRate)
    {
        Complex turn = Complex.FromPolarCoordinates(1, -2 * Math.PI * frequencyHz / sampleRate);
        Complex sum = 0;
        for (int i = response.Length - 1; i >= 0; i--)
        {
            sum = sum * turn + response[i];
        }

        return 20 * Math.Log10(Complex.Abs(sum));
    }
}
