using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Nonlinear;

/// <summary><see cref="ShapingCurve.Fold"/>: sin(π x / 2) and −(2/π) cos(π x / 2).</summary>
/// <remarks>
/// Both follow from s = sin t and c = cos t at t = π x / 4 brought to ±π/2, where s² and s c no longer know how many half
/// turns were taken off: sin(π x / 2) = 2 s c, cos(π x / 2) = 1 − 2 s². s and c are their power series to t²¹ and t²²; the
/// first term left out is 1e-18 at π/2.
/// </remarks>
internal readonly struct FoldCurve : IShapingCurve
{
    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> Value(Vector256<double> x)
    {
        Vector256<double> t = Angle(x);
        Vector256<double> square = t * t;
        return Sine(t, square) * Cosine(square) * 2.0;
    }

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> Integral(Vector256<double> x)
    {
        Vector256<double> t = Angle(x);
        Vector256<double> sine = Sine(t, t * t);
        return (sine * sine * 2.0 - Vector256<double>.One) * (2 / Math.PI);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<double> Angle(Vector256<double> x)
    {
        // Adding and taking away 1.5 · 2^52 rounds to whole numbers.
        Vector256<double> shift = Vector256.Create(6755399441055744.0);
        Vector256<double> turns = x * 0.25;
        return (turns - (turns + shift - shift)) * Math.PI;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<double> Sine(Vector256<double> t, Vector256<double> square)
    {
        Vector256<double> sum = Vector256.Create(1.0);
        for (int k = 10; k >= 1; k--)
        {
            sum = Vector256<double>.One - square * (1.0 / (2 * k * (2 * k + 1))) * sum;
        }

        return sum * t;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<double> Cosine(Vector256<double> square)
    {
        Vector256<double> sum = Vector256.Create(1.0);
        for (int k = 11; k >= 1; k--)
        {
            sum = Vector256<double>.One - square * (1.0 / (2 * k * (2 * k - 1))) * sum;
        }

        return sum;
    }
}
