using System.Numerics;
using LiveStems.Dsp.Filters;
using Xunit;

namespace LiveStems.Tests.Dsp.Filters;

public class FrequencyMapTests
{
    // What the type's remarks promise of ω, and twice that of ω².
    [Fact]
    public void MapIsTrueToOnePartInTenThousandAsFarAsTheFitGoes()
    {
        for (int k = 1; k <= 5000; k++)
        {
            double omega = 0.915 * Math.PI * k / 5000;
            Assert.InRange(Math.Sqrt(FrequencyMap.Bias(omega)) - 1, -1e-4, 1e-4);
        }
    }

    [Fact]
    public void MapRisesAllTheWayToNyquist()
    {
        double last = 0;
        for (double t = 1e-9; t < 1e12; t *= 1.1)
        {
            Assert.True(FrequencyMap.At(t) > last);
            last = FrequencyMap.At(t);
        }

        Assert.Equal(FrequencyMap.AtNyquist, last, 1e-6);
    }

    // The ground for stability: poles and zeros on the negative axis, interlaced.
    [Fact]
    public void PolesAndZerosAreNegativeAndInterlaced()
    {
        Complex[] poles = new Complex[3], zeros = new Complex[3];
        FrequencyMap.Poles(poles);
        FrequencyMap.Zeros(zeros);
        double[] p = [.. poles.Select(x => x.Real).Order()];
        double[] z = [.. zeros.Select(x => x.Real).Order()];
        Assert.True(p[0] < z[0] && z[0] < p[1] && p[1] < z[1] && z[1] < p[2] && p[2] < z[2] && z[2] == 0);
        Assert.All(poles, x => Assert.True(1 / Math.Abs(FrequencyMap.At(x.Real)) < 1e-12));
        Assert.All(zeros, x => Assert.Equal(0, FrequencyMap.At(x.Real), 1e-12));
    }

    [Fact]
    public void SolutionsSolve()
    {
        Random random = new(4);
        Complex[] roots = new Complex[3];
        for (int trial = 0; trial < 2000; trial++)
        {
            double size = Math.Pow(10, -9 + 11 * random.NextDouble());
            double angle = trial % 4 == 0 ? Math.PI : Math.PI * Math.Pow(10, -3 * random.NextDouble());
            Complex u = trial % 4 == 0 ? -size : Complex.FromPolarCoordinates(size, angle);
            FrequencyMap.Solve(u, roots);
            foreach (Complex t in roots)
            {
                // A root is good when the residual is rounding beside the terms that make it up.
                Complex residual = Top(t) - u * Bottom(t);
                double terms = Top(Complex.Abs(t)).Real + size * Bottom(Complex.Abs(t)).Real;
                Assert.True(Complex.Abs(residual) <= 1e-14 * terms, $"u {u}, T {t}: {Complex.Abs(residual) / terms}");
            }

            Assert.True(u.Imaginary == 0 || roots.All(t => t.Imaginary * u.Imaginary > 0), $"u {u}: {string.Join(' ', roots)}");
        }
    }

    private static Complex Top(Complex t) => t * (3.999213651956995 + t * (1.6215447368535107 + t * 0.056847206568146014));

    private static Complex Bottom(Complex t) =>
        1 + t * (1.0684315344788224 + t * (0.22676563278099726 + t * 0.006134930067567712));
}
