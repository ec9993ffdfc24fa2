using System.Runtime.Intrinsics;
using LiveStems.Dsp.Nonlinear;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Dsp.Nonlinear;

public class ShapingCurveTests
{
    [Fact]
    public void SoftIsTheHyperbolicTangent() => Check<SoftCurve>(Math.Tanh, 300);

    [Fact]
    public void AsymmetricIsTheTangentMovedAndScaled() =>
        Check<AsymmetricCurve>(x => (Math.Tanh(x + 0.5) - Math.Tanh(0.5)) * Math.Pow(Math.Cosh(0.5), 2), 300);

    [Fact]
    public void SecondIsAParabolaWithItsTangents() => Check<SecondHarmonicCurve>(
        x => x > 1 ? 1.2 + 1.4 * (x - 1) : x < -1 ? -0.8 + 0.6 * (x + 1) : x + 0.1 * (2 * x * x - 1) + 0.1, 300);

    [Fact]
    public void ThirdIsACubicWithItsTangents() => Check<ThirdHarmonicCurve>(
        x => Math.Abs(x) > 1 ? Math.Sign(x) * (0.9 + 0.1 * (Math.Abs(x) - 1)) : x - 0.1 * (4 * x * x * x - 3 * x), 300);

    [Fact]
    public void FoldIsASine() => Check<FoldCurve>(x => Math.Sin(Math.PI * x / 2), 20);

    // Means over steps of any size against the mean of the formula along the same line (Simpson's rule).
    [Theory]
    [InlineData(1e-7)]
    [InlineData(9e-5)]
    [InlineData(1.1e-4)]
    [InlineData(0.01)]
    [InlineData(1)]
    public void ShaperTakesTheMeanOfTheCurveAlongEachStep(double step)
    {
        float[] walk = TestSignals.RandomWalk(500, 1, step, 3);
        float[] shaped = [.. walk];
        AntiderivativeShaper shaper = AntiderivativeShaper.Create(ShapingCurve.Soft, 500);
        shaper.Process(shaped);
        for (int n = 1; n < walk.Length; n++)
        {
            Assert.Equal(Mean(Math.Tanh, walk[n - 1], walk[n]), shaped[n], 1e-7);
        }
    }

    // The antiderivative is checked by its difference over a step, which is the integral of the curve.
    private static void Check<TCurve>(Func<double, double> formula, double reach)
        where TCurve : struct, IShapingCurve
    {
        for (double x = -reach; x < reach; x += reach / 997)
        {
            Assert.Equal(formula(x), TCurve.Value(Vector256.Create(x)).ToScalar(), 1e-12 * Math.Max(1, Math.Abs(x)));
        }

        for (double x = -4; x < 4; x += 0.0371)
        {
            double area = TCurve.Integral(Vector256.Create(x + 0.01)).ToScalar() - TCurve.Integral(Vector256.Create(x)).ToScalar();
            Assert.Equal(Mean(formula, x, x + 0.01) * 0.01, area, 1e-10);
        }
    }

    private static double Mean(Func<double, double> formula, double from, double to)
    {
        const int Parts = 64;
        double sum = 0;
        for (int i = 0; i <= Parts; i++)
        {
            double weight = i is 0 or Parts ? 1 : i % 2 == 1 ? 4 : 2;
            sum += weight * formula(from + (to - from) * i / Parts);
        }

        return sum / (3 * Parts);
    }
}
