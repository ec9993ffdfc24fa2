using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;
using Xunit;

namespace LiveStems.Tests.Dsp.Dynamics;

public class VectorMathTests
{
    // Stated accuracy of the polynomial plus rounding; half a unit in the last place of a result up to 32 is 9.5e-7.
    private const double LogarithmTolerance = 2.5e-7;
    private const double PowerTolerance = 2.4e-7;

    [Fact]
    public void LogarithmAgreesWithDoublePrecisionOverAllMagnitudes()
    {
        Random random = new(1);
        for (int exponent = -126; exponent < 128; exponent++)
        {
            for (int i = 0; i < 200; i++)
            {
                float x = (float)Math.ScaleB(1 + random.NextDouble(), exponent);
                if (!float.IsFinite(x))
                {
                    continue;
                }

                double expected = Math.Log2(x);
                double rounding = Math.Abs(expected) * Math.Pow(2, -24);
                Assert.InRange(VectorLog2.Of(Vector256.Create(x))[3] - expected, -LogarithmTolerance - rounding, LogarithmTolerance + rounding);
            }
        }
    }

    [Fact]
    public void PowerAgreesWithDoublePrecisionOverItsRange()
    {
        Random random = new(2);
        for (int i = 0; i < 50_000; i++)
        {
            float x = (float)(252 * random.NextDouble() - 126);
            double ratio = VectorExp2.Of(Vector256.Create(x))[5] / Math.Pow(2, x);
            Assert.InRange(ratio - 1, -PowerTolerance, PowerTolerance);
        }
    }

    [Fact]
    public void UnityIsExactBothWays()
    {
        Assert.Equal(0f, VectorLog2.Of(Vector256<float>.One)[0]);
        Assert.Equal(1f, VectorExp2.Of(Vector256<float>.Zero)[0]);
    }

    [Fact]
    public void WholePowersOfTwoAreExactBothWays()
    {
        for (int n = -126; n <= 126; n++)
        {
            Assert.Equal(n, VectorLog2.Of(Vector256.Create((float)Math.ScaleB(1, n)))[0]);
            Assert.Equal((float)Math.ScaleB(1, n), VectorExp2.Of(Vector256.Create((float)n))[0]);
        }
    }

    [Fact]
    public void EveryLaneGivesWhatItWouldGiveAlone()
    {
        Vector256<float> x = Vector256.Create(0.001f, 0.3f, 0.9999f, 1.0001f, 1.5f, 77f, 4096.5f, 1e20f);
        for (int lane = 0; lane < 8; lane++)
        {
            Assert.Equal(VectorLog2.Of(Vector256.Create(x[lane]))[0], VectorLog2.Of(x)[lane]);
        }
    }
}
