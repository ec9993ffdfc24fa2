using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Nonlinear;

/// <summary><see cref="ShapingCurve.Soft"/>: tanh x and ln cosh x.</summary>
internal readonly struct SoftCurve : IShapingCurve
{
    private const double Ln2 = 0.693147180559945309;

    // Beyond this the exponential no longer counts.
    private const double Far = 40;

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> Value(Vector256<double> x)
    {
        Vector256<double> e = Fading(Vector256.Abs(x));
        Vector256<double> size = (Vector256<double>.One - e) / (Vector256<double>.One + e);
        return size | (x & Vector256.Create(-0.0));
    }

    /// <summary>|x| + ln(1 + e^(−2|x|)) − ln 2.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> Integral(Vector256<double> x)
    {
        Vector256<double> size = Vector256.Abs(x);
        return size - Vector256.Create(Ln2) + Vector256.Log(Vector256<double>.One + Fading(size));
    }

    // e^(−2 size), its argument kept where the exponential has no special cases.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<double> Fading(Vector256<double> size) =>
        Vector256.Exp(Vector256.MinNative(size, Vector256.Create(Far)) * -2.0);
}

/// <summary><see cref="ShapingCurve.Asymmetric"/>: the soft curve off its centre, moved and scaled to go through 0 with slope 1.</summary>
internal readonly struct AsymmetricCurve : IShapingCurve
{
    private const double Offset = 0.5;
    private const double AtOffset = 0.46211715726000975;
    private const double PerSlope = 1 / (1 - AtOffset * AtOffset);

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> Value(Vector256<double> x) =>
        (SoftCurve.Value(x + Vector256.Create(Offset)) - Vector256.Create(AtOffset)) * PerSlope;

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> Integral(Vector256<double> x) =>
        (SoftCurve.Integral(x + Vector256.Create(Offset)) - x * AtOffset) * PerSlope;
}
