using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Nonlinear;

/// <summary>
/// <see cref="ShapingCurve.Second"/>: f = x + 0.2 x² within ±1, and its tangents beyond.
/// </summary>
/// <remarks>
/// With the part u of x inside ±1 and the excess e = x − u: f = u + 0.2 u² + (1 + 0.4 u) e and
/// F = u²/2 + u³/15 + f(u) e + (1 + 0.4 u) e²/2, since e is 0 unless u is at an end.
/// </remarks>
internal readonly struct SecondHarmonicCurve : IShapingCurve
{
    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> Value(Vector256<double> x)
    {
        Vector256<double> u = Inside.Of(x);
        return u + u * u * 0.2 + (Vector256<double>.One + u * 0.4) * (x - u);
    }

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> Integral(Vector256<double> x)
    {
        Vector256<double> u = Inside.Of(x);
        Vector256<double> e = x - u;
        Vector256<double> square = u * u;
        return square * 0.5 + square * u * (1.0 / 15) + ((u + square * 0.2) + (Vector256<double>.One + u * 0.4) * e * 0.5) * e;
    }
}

/// <summary>
/// <see cref="ShapingCurve.Third"/>: f = 1.3 x − 0.4 x³ within ±1, and its tangents (slope 0.1) beyond.
/// </summary>
/// <remarks>As <see cref="SecondHarmonicCurve"/>: F = 0.65 u² − 0.1 u⁴ + f(u) e + 0.05 e².</remarks>
internal readonly struct ThirdHarmonicCurve : IShapingCurve
{
    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> Value(Vector256<double> x)
    {
        Vector256<double> u = Inside.Of(x);
        return u * (Vector256.Create(1.3) - u * u * 0.4) + (x - u) * 0.1;
    }

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> Integral(Vector256<double> x)
    {
        Vector256<double> u = Inside.Of(x);
        Vector256<double> e = x - u;
        Vector256<double> square = u * u;
        Vector256<double> value = u * (Vector256.Create(1.3) - square * 0.4);
        return square * (Vector256.Create(0.65) - square * 0.1) + (value + e * 0.05) * e;
    }
}

/// <summary>The part of x within ±1.</summary>
internal static class Inside
{
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> Of(Vector256<double> x) =>
        Vector256.MaxNative(Vector256.MinNative(x, Vector256<double>.One), -Vector256<double>.One);
}
