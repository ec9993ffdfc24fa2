using System.Numerics;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// A rational stand-in for the law between a digital and an analogue frequency: ω² ≈ R(T), T = tan²(ω/2), where
/// R(T) = T (n1 + n2 T + n3 T²) / (1 + d1 T + d2 T² + d3 T³).
/// </summary>
/// <remarks>
/// <para>
/// The squared magnitude of an analogue filter is a rational function of ω², that of a digital filter one of T. Putting R
/// in the place of ω² therefore turns any analogue filter into a digital one of three times the order that is true to
/// it as far as R is true: up to Nyquist, where the bilinear transform, R = 4T, is not. The squared magnitude is taken
/// as the thing to match, as in M. Vicanek, "Matched second order digital filters" (2016); the map is ours.
/// </para>
/// <para>
/// ω² as a function of T is a complete Bernstein function, and so is R: its zeros and poles lie interlaced on the negative
/// real axis. So R(T) = u has no solution T ≥ 0 unless u ≥ 0, and every digital pole and zero found through it stays
/// strictly off the unit circle whenever the analogue one is off the imaginary axis: stable and minimum phase, always.
/// </para>
/// <para>
/// The coefficients are the minimax fit of R(T)/ω² − 1 over 0 &lt; ω ≤ 0.915 π (20.2 kHz at 44.1 kHz), found by Lawson's
/// algorithm: there R is true to within 1e-4 of the frequency. Above, R falls behind: 8e-4 at 0.93 π, 1.5e-2 at 0.98 π,
/// 3.1e-2 at Nyquist.
/// </para>
/// </remarks>
internal static class FrequencyMap
{
    /// <summary>Solutions T of R(T) = u for each u.</summary>
    public const int Degree = 3;

    private const double N1 = 3.999213651956995;
    private const double N2 = 1.6215447368535107;
    private const double N3 = 0.056847206568146014;
    private const double D1 = 1.0684315344788224;
    private const double D2 = 0.22676563278099726;
    private const double D3 = 0.006134930067567712;

    /// <summary>Highest angular frequency, in radians a sample, to which the fit goes.</summary>
    public const double Limit = 0.912 * Math.PI;

    /// <summary>R at Nyquist.</summary>
    public const double AtNyquist = N3 / D3;

    /// <summary>R(T).</summary>
    public static double At(double t) => t * (N1 + t * (N2 + t * N3)) / (1 + t * (D1 + t * (D2 + t * D3)));

    /// <summary>R(T)/ω² at an angular frequency in radians a sample, 0 to below π; 1 where R is exact.</summary>
    public static double Bias(double omega)
    {
        if (omega == 0)
        {
            return N1 / 4;
        }

        double tangent = Math.Tan(omega / 2);
        return At(tangent * tangent) / (omega * omega);
    }

    /// <summary>
    /// The three T where R(T) = u. For complex u they come in the order of falling imaginary part of √−T, for real u ≤ 0
    /// in the order of the poles of R, the one that goes to 0 with u first; the two orders agree where they meet.
    /// </summary>
    public static void Solve(Complex u, Span<Complex> roots)
    {
        Complex c3 = N3 - u * D3;
        Complex c2 = N2 - u * D2;
        Complex c1 = N1 - u * D1;
        Complex first = Polish(c3, c2, c1, -u, Laguerre(c3, c2, c1, -u));

        // What remains after division by (T − first), c3 T² + q1 T + q0; begun from the end at which it loses no digits.
        Complex cube = c3 * first * first * first;
        bool isLarge = ComplexMaths.Magnitude(cube) > ComplexMaths.Magnitude(u);
        Complex q0 = isLarge ? ComplexMaths.Divide(u, first) : c1 + (c2 + c3 * first) * first;
        Complex q1 = isLarge ? ComplexMaths.Divide(q0 - c1, first) : c2 + c3 * first;
        Complex root = ComplexMaths.Sqrt(q1 * q1 - 4 * c3 * q0);
        Complex sum = ComplexMaths.PointAlike(q1, root) ? q1 + root : q1 - root;
        roots[0] = first;
        roots[1] = Polish(c3, c2, c1, -u, ComplexMaths.Divide(-2 * q0, sum));
        roots[2] = Polish(c3, c2, c1, -u, ComplexMaths.Divide(-0.5 * sum, c3));
        Order(u, roots);
    }

    /// <summary>The three T where R is infinite, in the order of <see cref="Solve"/>.</summary>
    public static void Poles(Span<Complex> roots)
    {
        roots[0] = PoleNear;
        roots[1] = PoleFar;
        roots[2] = PoleMiddle;
    }

    /// <summary>The three T where R is 0, in the order of <see cref="Solve"/>.</summary>
    public static void Zeros(Span<Complex> roots)
    {
        roots[0] = 0;
        roots[1] = ZeroFar;
        roots[2] = ZeroNear;
    }

    private static readonly double PoleNear = Newton(1, D1, D2, D3, -1.26);
    private static readonly double PoleMiddle = Newton(1, D1, D2, D3, -4.08);
    private static readonly double PoleFar = Newton(1, D1, D2, D3, -31.6);
    private static readonly double ZeroNear = Newton(N1, N2, N3, 0, -2.73);
    private static readonly double ZeroFar = Newton(N1, N2, N3, 0, -25.8);

    private static double Newton(double c0, double c1, double c2, double c3, double t)
    {
        for (int i = 0; i < 8; i++)
        {
            t -= (c0 + t * (c1 + t * (c2 + t * c3))) / (c1 + t * (2 * c2 + t * 3 * c3));
        }

        return t;
    }

    // Laguerre's method, which converges cubically and from anywhere, on the way from where the true law has its solution:
    // tan² (√u / 2), by the Padé approximant tan x ≈ x (15 − x²) / (15 − 6 x²).
    private static Complex Laguerre(Complex c3, Complex c2, Complex c1, Complex c0)
    {
        Complex quarter = -0.25 * c0;
        Complex ratio = ComplexMaths.Divide(15 - quarter, 15 - 6 * quarter);
        Complex t = quarter * ratio * ratio;
        for (int i = 0; i < 12; i++)
        {
            Complex value = c0 + t * (c1 + t * (c2 + t * c3));
            Complex slope = c1 + t * (2 * c2 + t * (3 * c3));
            Complex curve = 2 * c2 + 6 * c3 * t;
            Complex root = ComplexMaths.Sqrt(4 * slope * slope - 6 * value * curve);
            Complex bottom = ComplexMaths.PointAlike(slope, root) ? slope + root : slope - root;
            Complex step = ComplexMaths.Divide(3 * value, bottom);
            t -= step;
            if (Math.Abs(step.Real) + Math.Abs(step.Imaginary) <= 1e-7 * (Math.Abs(t.Real) + Math.Abs(t.Imaginary)))
            {
                return t;
            }
        }

        return t;
    }

    private static Complex Polish(Complex c3, Complex c2, Complex c1, Complex c0, Complex t)
    {
        Complex slope = c1 + t * (2 * c2 + t * (3 * c3));
        return slope == Complex.Zero ? t : t - ComplexMaths.Divide(c0 + t * (c1 + t * (c2 + t * c3)), slope);
    }

    private static void Order(Complex u, Span<Complex> roots)
    {
        Span<double> keys = stackalloc double[Degree];
        for (int i = 0; i < Degree; i++)
        {
            keys[i] = u.Imaginary == 0 ? RealKey(roots[i].Real) : -Math.Abs(ComplexMaths.Sqrt(-roots[i]).Imaginary);
        }

        Sort(keys, roots, 0, 1);
        Sort(keys, roots, 1, 2);
        Sort(keys, roots, 0, 1);
    }

    private static void Sort(Span<double> keys, Span<Complex> roots, int i, int j)
    {
        if (keys[i] > keys[j])
        {
            (keys[i], keys[j]) = (keys[j], keys[i]);
            (roots[i], roots[j]) = (roots[j], roots[i]);
        }
    }

    private static double RealKey(double t) => t > PoleMiddle ? t > PoleNear ? 0 : 2 : t < PoleFar ? 0 : 1;
}
