using System.Runtime.Intrinsics;
using LiveStems.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Dsp.Dynamics;

public class GainComputerTests
{
    [Fact]
    public void EightLevelsAtOnceAgreeWithDoublePrecision()
    {
        Random random = new(3);
        for (int i = 0; i < 2000; i++)
        {
            GainComputer curve = i % 2 == 0
                ? GainComputer.Compressor(-80 * random.NextDouble(), 1 + 30 * random.NextDouble(), 24 * random.NextDouble())
                : GainComputer.Expander(-80 * random.NextDouble(), 1 + 9 * random.NextDouble(), 24 * random.NextDouble(), 90 * random.NextDouble());
            float level = (float)(-140 + 160 * random.NextDouble());

            // Three roundings of numbers up to 200 dB and a slope of at most 9: 9 · 3 · 200 · 2^-24 = 0.0003 dB.
            Assert.Equal(curve.ReductionDb(level), curve.Vectorise().ReductionDb(Vector256.Create(level))[4], 0.0003);
        }
    }

    [Theory]
    [InlineData(0)]
    [InlineData(0.5)]
    [InlineData(24)]
    public void ReductionRisesWithLevelAndNeverJumps(double kneeDb)
    {
        GainComputer curve = GainComputer.Compressor(-20, double.PositiveInfinity, kneeDb);
        double before = 0;
        for (double level = -60; level <= 10; level += 0.01)
        {
            double reduction = curve.ReductionDb(level);
            Assert.InRange(reduction - before, -1e-12, 0.01 + 1e-9);
            before = reduction;
        }
    }

    [Fact]
    public void AnExpanderStopsAtItsRange()
    {
        GainComputer curve = GainComputer.Expander(-50, 4, 6, 20);
        Assert.Equal(20, curve.ReductionDb(-100), 12);
        Assert.Equal(20f, curve.Vectorise().ReductionDb(Vector256.Create(-100f))[0]);
    }

    [Fact]
    public void ARatioOfOneReducesNothing()
    {
        GainComputer curve = GainComputer.Compressor(-30, 1, 12);
        Assert.Equal(0f, curve.Vectorise().ReductionDb(Vector256.Create(0f))[0]);
    }
}
