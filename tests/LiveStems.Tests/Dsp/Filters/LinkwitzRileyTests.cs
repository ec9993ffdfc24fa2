using System.Numerics;
using LiveStems.Dsp.Filters;
using Xunit;

namespace LiveStems.Tests.Dsp.Filters;

/// <summary>REFERENCES section 4, computed there with scipy at 48 kHz, crossover 1 kHz.</summary>
public class LinkwitzRileyTests
{
    private static (BiquadCoefficients[] Low, BiquadCoefficients[] High) Branches(int order)
    {
        BiquadCoefficients[] low = new BiquadCoefficients[LinkwitzRiley.SectionCount(order)];
        BiquadCoefficients[] high = new BiquadCoefficients[low.Length];
        LinkwitzRiley.LowBranch(order, 1000, 48000, low);
        LinkwitzRiley.HighBranch(order, 1000, 48000, high);
        return (low, high);
    }

    [Theory]
    [InlineData(2)]
    [InlineData(4)]
    [InlineData(6)]
    [InlineData(8)]
    public void BranchesMeetAtMinusSixAndSumFlat(int order)
    {
        (BiquadCoefficients[] low, BiquadCoefficients[] high) = Branches(order);
        Assert.Equal(-6.0206, ButterworthTests.GainDb(low, 1000), 0.5e-4);
        Assert.Equal(-6.0206, ButterworthTests.GainDb(high, 1000), 0.5e-4);
        for (double f = 10; f < 24000; f *= 1.3)
        {
            Complex sum = ButterworthTests.Response(low, f) + LinkwitzRiley.HighBranchSign(order) * ButterworthTests.Response(high, f);
            Assert.Equal(1, Complex.Abs(sum), 1e-9);
        }
    }

    [Fact]
    public void FourthOrderBranchFallsAsTabled()
    {
        (BiquadCoefficients[] low, _) = Branches(4);
        Assert.Equal(-0.5244, ButterworthTests.GainDb(low, 500), 0.5e-4);
        Assert.Equal(-24.7498, ButterworthTests.GainDb(low, 2000), 0.5e-4);
    }

    [Fact]
    public void FourthOrderSumIsTheAllPassOfTheSameFrequency()
    {
        (BiquadCoefficients[] low, BiquadCoefficients[] high) = Branches(4);
        BiquadCoefficients allPass = BiquadDesign.AllPass(1000, Math.Sqrt(0.5), 48000);
        for (double f = 20; f < 20000; f *= 1.5)
        {
            Complex sum = ButterworthTests.Response(low, f) + ButterworthTests.Response(high, f);
            Assert.True(Complex.Abs(sum - allPass.Response(2 * Math.PI * f / 48000)) < 1e-10);
        }
    }

    [Fact]
    public void FourthOrderInWrongPolarityHasANullAtTheCrossover()
    {
        (BiquadCoefficients[] low, BiquadCoefficients[] high) = Branches(4);
        Assert.True(Complex.Abs(ButterworthTests.Response(low, 1000) - ButterworthTests.Response(high, 1000)) < 1e-12);
    }
}
