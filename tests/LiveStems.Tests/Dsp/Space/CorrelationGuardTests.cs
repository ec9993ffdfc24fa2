using LiveStems.Dsp.Space;
using Xunit;

namespace LiveStems.Tests.Dsp.Space;

public class CorrelationGuardTests
{
    // The definition of the correlation, put in with the gain that was found.
    [Theory]
    [InlineData(0.3)]
    [InlineData(0)]
    [InlineData(-0.4)]
    [InlineData(0.9)]
    public void TheWantedGainGivesTheFloor(double floor)
    {
        Random random = new(1);
        int acted = 0;
        for (int trial = 0; trial < 1000; trial++)
        {
            double middle = random.NextDouble();
            double side = 3 * random.NextDouble();
            double product = Math.Sqrt(middle * side) * (2 * random.NextDouble() - 1) * 0.9;
            double gain = CorrelationGuard.WantedGain(middle, side, product, floor);
            double correlation = Correlation(middle, side * gain * gain, product * gain);
            Assert.InRange(gain, 0, 1);
            Assert.True(correlation >= floor - 1e-9, $"{correlation}");
            if (gain < 1)
            {
                acted++;
                Assert.Equal(floor, correlation, 9);
                Assert.True(Correlation(middle, side, product) < floor);
            }
        }

        Assert.True(acted > 100);
    }

    [Fact]
    public void SilenceAndMonoAreLeftAlone()
    {
        Assert.Equal(1, CorrelationGuard.WantedGain(0, 0, 0, 0.5));
        Assert.Equal(1, CorrelationGuard.WantedGain(1, 0, 0, 0.5));
        Assert.Equal(1, CorrelationGuard.WantedGain(0, 1, 0, -1));
    }

    private static double Correlation(double middle, double side, double product) =>
        (middle - side) / Math.Sqrt((middle + side) * (middle + side) - 4 * product * product);
}
