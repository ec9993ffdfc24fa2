using System.Numerics;

namespace LiveStems.Dsp.Filters;

/// <summary>The factor s² + Linear s + Constant of a digital section, s in the bilinear plane; no root right of the axis.</summary>
internal readonly record struct BilinearFactor(double Linear, double Constant)
{
    /// <summary>
    /// Carries the analogue factor c2 s² + c1 s + c0, s in units of <paramref name="omega"/>, through the frequency map.
    /// A factor of second order whose high coefficients are 0 has its roots at infinity.
    /// </summary>
    public static void Solve(double c2, double c1, double c0, bool isFirstOrder, double omega, Span<BilinearFactor> factors)
    {
        Span<Complex> one = stackalloc Complex[FrequencyMap.Degree];
        if (isFirstOrder)
        {
            Real(c1 == 0 ? double.PositiveInfinity : c0 / c1, omega, one);
            factors[0] = Pair(one[0], one[1]);
            factors[1] = Pair(one[2], -1);
            return;
        }

        double half = c2 == 0 ? 0 : 0.5 * c1 / c2;
        double square = c2 == 0 ? double.PositiveInfinity : c0 / c2;
        double discriminant = half * half - square;
        if (c2 != 0 && discriminant < 0)
        {
            double bias = Bias(omega * Math.Sqrt(square), omega);
            Complex root = new(-half, Math.Sqrt(-discriminant));
            FrequencyMap.Solve(-(root * root) * (omega * omega * bias), one);
            for (int i = 0; i < FrequencyMap.Degree; i++)
            {
                factors[i] = new(2 * ComplexMaths.Sqrt(-one[i]).Real, ComplexMaths.Magnitude(one[i]));
            }

            return;
        }

        Span<Complex> other = stackalloc Complex[FrequencyMap.Degree];
        double fast = c2 == 0 ? double.PositiveInfinity : half + Math.Sqrt(discriminant);
        Real(fast, omega, one);
        Real(fast is 0 or double.PositiveInfinity ? fast : square / fast, omega, other);
        for (int i = 0; i < FrequencyMap.Degree; i++)
        {
            factors[i] = Pair(one[i], other[i]);
        }
    }

    /// <summary>The denominator of a section.</summary>
    public static BilinearFactor PolesOf(in StateVariableCoefficients section) =>
        new(section.K * section.G, section.G * section.G);

    /// <summary>The numerator of a section whose s² coefficient is not 0, without its gain.</summary>
    public static BilinearFactor ZerosOf(in StateVariableCoefficients section) => new(
        (section.Band / section.Direct + section.K) * section.G,
        (section.Low / section.Direct + 1) * section.G * section.G);

    // The images of the analogue root s = −rate.
    private static void Real(double rate, double omega, Span<Complex> roots)
    {
        if (double.IsPositiveInfinity(rate))
        {
            FrequencyMap.Poles(roots);
            return;
        }

        if (rate == 0)
        {
            FrequencyMap.Zeros(roots);
            return;
        }

        double frequency = omega * rate;
        FrequencyMap.Solve(-frequency * frequency * Bias(frequency, omega), roots);
    }

    // Makes the map exact at a factor's own frequency, up to the filter's frequency at least. A factor farther up than
    // the fit goes has only its lower flank in sight, which the map as it is renders better.
    private static double Bias(double frequency, double omega) =>
        FrequencyMap.Bias(Math.Min(frequency, Math.Max(omega, FrequencyMap.Limit)));

    // Two roots T on the negative axis: (s + √−T1) (s + √−T2).
    private static BilinearFactor Pair(Complex t1, Complex t2)
    {
        double first = Math.Sqrt(Math.Max(0, -t1.Real));
        double second = Math.Sqrt(Math.Max(0, -t2.Real));
        return new(first + second, first * second);
    }
}
