using LiveStems.Dsp.Loudness;
using Xunit;

namespace LiveStems.Conformance.Loudness;

/// <summary>The K-weighting of ITU-R BS.1770-5 (11/2023) Annex 1.</summary>
public class KWeightingTests
{
    [Fact]
    public void CoefficientsAt48KilohertzAreThoseOfTables1And2()
    {
        KWeighting weighting = new(48_000);
        Assert.Equal(1.53512485958697, weighting.Shelf.B0, 1e-13);
        Assert.Equal(-2.69169618940638, weighting.Shelf.B1, 1e-13);
        Assert.Equal(1.19839281085285, weighting.Shelf.B2, 1e-13);
        Assert.Equal(-1.69065929318241, weighting.Shelf.A1, 1e-13);
        Assert.Equal(0.73248077421585, weighting.Shelf.A2, 1e-13);
        Assert.Equal(1, weighting.HighPassGain);
        Assert.Equal(-1.99004745483398, weighting.HighPassA1, 1e-13);
        Assert.Equal(0.99007225036621, weighting.HighPassA2, 1e-13);
    }

    [Fact]
    public void MatchingGivesTheTableBackWhereTheRateIsAllButTheSame()
    {
        // A rate 1e-9 off: the matched design runs, and must come out at the table.
        MatchedShelf table = MatchedShelf.For(48_000);
        MatchedShelf matched = MatchedShelf.For(48_000 * (1 + 1e-9));
        Assert.Equal(table.B0, matched.B0, 1e-8);
        Assert.Equal(table.B1, matched.B1, 1e-8);
        Assert.Equal(table.B2, matched.B2, 1e-8);
        Assert.Equal(table.A1, matched.A1, 1e-8);
        Assert.Equal(table.A2, matched.A2, 1e-8);
    }

    [Theory]
    [InlineData(20, -13.275)]
    [InlineData(25, -10.393)]
    [InlineData(31.5, -7.790)]
    [InlineData(40, -5.567)]
    [InlineData(50, -3.934)]
    [InlineData(63, -2.664)]
    [InlineData(80, -1.732)]
    [InlineData(100, -1.133)]
    [InlineData(125, -0.728)]
    [InlineData(160, -0.435)]
    [InlineData(200, -0.265)]
    [InlineData(250, -0.153)]
    [InlineData(315, -0.075)]
    [InlineData(400, -0.015)]
    [InlineData(500, 0.042)]
    [InlineData(630, 0.134)]
    [InlineData(800, 0.328)]
    [InlineData(1000, 0.698)]
    [InlineData(1250, 1.342)]
    [InlineData(1600, 2.290)]
    [InlineData(2000, 3.071)]
    [InlineData(2500, 3.580)]
    [InlineData(3150, 3.848)]
    [InlineData(4000, 3.968)]
    [InlineData(5000, 4.013)]
    [InlineData(6300, 4.032)]
    [InlineData(8000, 4.039)]
    [InlineData(10000, 4.042)]
    [InlineData(12500, 4.043)]
    [InlineData(16000, 4.043)]
    [InlineData(20000, 4.043)]
    public void MagnitudeIsThatOfTheTables(double frequency, double expectedDb)
    {
        // Computed with numpy from Tables 1 and 2 to three decimals. The standard asks for the same response at any rate.
        Assert.Equal(expectedDb, new KWeighting(48_000).GainDb(frequency), 0.00051);
        foreach (int sampleRate in (int[])[44_100, 88_200, 96_000, 176_400, 192_000, 384_000])
        {
            Assert.Equal(expectedDb, new KWeighting(sampleRate).GainDb(frequency), 0.00051 + 0.0001);
        }
    }

    [Theory]
    [InlineData(8_000, 0.0134)]
    [InlineData(11_025, 0.005)]
    [InlineData(16_000, 0.0013)]
    [InlineData(22_050, 0.0004)]
    [InlineData(32_000, 0.0001)]
    [InlineData(44_100, 0.0001)]
    [InlineData(96_000, 0.0001)]
    [InlineData(192_000, 0.0001)]
    [InlineData(384_000, 0.0001)]
    public void ResponseAtOtherRatesIsThatAt48Kilohertz(int sampleRate, double toleranceDb)
    {
        // The tolerances are what numpy gives for this design, rounded up; BS.1770-5 states none.
        KWeighting reference = new(48_000);
        KWeighting weighting = new(sampleRate);
        double top = Math.Min(20_000, 0.45 * sampleRate);
        for (double frequency = 20; frequency <= top; frequency *= 1.01)
        {
            Assert.Equal(reference.GainDb(frequency), weighting.GainDb(frequency), toleranceDb);
        }
    }
}
