using System.Numerics;
using System.Runtime.CompilerServices;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// Complex square root and quotient without the guards against overflow of <see cref="Complex"/>, for numbers of ordinary
/// size: a third of the time.
/// </summary>
internal static class ComplexMaths
{
    /// <summary>The square root right of the imaginary axis.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Complex Sqrt(Complex value)
    {
        double size = Magnitude(value);
        double larger = Math.Sqrt(0.5 * (size + Math.Abs(value.Real)));
        if (larger == 0)
        {
            return Complex.Zero;
        }

        double smaller = 0.5 * Math.Abs(value.Imaginary) / larger;
        return value.Real >= 0
            ? new(larger, Math.CopySign(smaller, value.Imaginary))
            : new(smaller, Math.CopySign(larger, value.Imaginary));
    }

    /// <summary>The quotient of two numbers.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Complex Divide(Complex top, Complex bottom)
    {
        double scale = 1 / (bottom.Real * bottom.Real + bottom.Imaginary * bottom.Imaginary);
        return new(
            (top.Real * bottom.Real + top.Imaginary * bottom.Imaginary) * scale,
            (top.Imaginary * bottom.Real - top.Real * bottom.Imaginary) * scale);
    }

    /// <summary>The magnitude of a number.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double Magnitude(Complex value) => Math.Sqrt(value.Real * value.Real + value.Imaginary * value.Imaginary);

    /// <summary>Whether two numbers, as arrows, point to the same side.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool PointAlike(Complex a, Complex b) => a.Real * b.Real + a.Imaginary * b.Imaginary >= 0;
}
