using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Filters;

/// <summary>Squared magnitudes of sections at evenly spaced frequencies from 0 to Nyquist, four at a time.</summary>
/// <remarks>
/// With s = j tan(ω/2), both numerator and denominator times cos⁴(ω/2) are finite up to Nyquist: a factor
/// n2 s² + n1 s + n0 becomes (n0 c − n2 d)² + n1² c d with c = cos²(ω/2) and d = sin²(ω/2).
/// </remarks>
internal sealed class SectionPower
{
    private readonly double[] cosines;
    private readonly double[] sines;

    /// <summary>Takes memory for a number of frequencies; the last is Nyquist.</summary>
    public SectionPower(int bins)
    {
        int padded = (bins + 3) & -4;
        cosines = new double[padded];
        sines = new double[padded];
        for (int bin = 0; bin < padded; bin++)
        {
            (double sin, double cos) = Math.SinCos(0.5 * Math.PI * Math.Min(1, (double)bin / (bins - 1)));
            (cosines[bin], sines[bin]) = (cos * cos, sin * sin);
        }
    }

    /// <summary>Values that powers need room for: the bins, up to whole vectors.</summary>
    public int PaddedBins => cosines.Length;

    /// <summary>Multiplies powers by those of a section.</summary>
    /// <param name="section">The section.</param>
    /// <param name="powers">One for each bin, <see cref="PaddedBins"/> of them.</param>
    /// <param name="first">The first bin, a multiple of four.</param>
    /// <param name="count">How many bins, a multiple of four.</param>
    public void Multiply(in StateVariableCoefficients section, Span<double> powers, int first, int count)
    {
        double square = section.G * section.G;
        Factor top = new(section.Direct, (section.Band + section.Direct * section.K) * section.G, (section.Low + section.Direct) * square);
        Factor bottom = new(1, section.K * section.G, square);
        Span<Vector256<double>> product = MemoryMarshal.Cast<double, Vector256<double>>(powers.Slice(first, count));
        ReadOnlySpan<Vector256<double>> c = MemoryMarshal.Cast<double, Vector256<double>>(cosines.AsSpan(first, count));
        ReadOnlySpan<Vector256<double>> d = MemoryMarshal.Cast<double, Vector256<double>>(sines.AsSpan(first, count));
        for (int i = 0; i < product.Length; i++)
        {
            product[i] *= top.Power(c[i], d[i]) / bottom.Power(c[i], d[i]);
        }
    }

    private readonly struct Factor(double square, double linear, double constant)
    {
        private readonly Vector256<double> square = Vector256.Create(square);
        private readonly Vector256<double> linear = Vector256.Create(linear * linear);
        private readonly Vector256<double> constant = Vector256.Create(constant);

        public Vector256<double> Power(Vector256<double> c, Vector256<double> d)
        {
            Vector256<double> real = constant * c - square * d;
            return Vector256.FusedMultiplyAdd(real, real, linear * (c * d));
        }
    }
}
