using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace LiveStems.Dsp.Simd;

/// <summary>
/// Eight rows of eight floats, turned so that what was a row becomes a column: eight channels side by side in the lanes of
/// one vector a frame, and back again.
/// </summary>
internal static class EightRows
{
    /// <summary>True where the vectors it is made for are the machine's own.</summary>
    /// <remarks>
    /// Asked for once: code compiled ahead of time does not know the answer, and what asks the machine itself would be
    /// compiled at every start.
    /// </remarks>
    public static bool IsSupported { get; } = Avx2.IsSupported && Vector512.IsHardwareAccelerated;

    /// <summary>Turns the square in place.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Turn(
        ref Vector256<float> r0,
        ref Vector256<float> r1,
        ref Vector256<float> r2,
        ref Vector256<float> r3,
        ref Vector256<float> r4,
        ref Vector256<float> r5,
        ref Vector256<float> r6,
        ref Vector256<float> r7)
    {
        // Pairs of floats, pairs of pairs, halves of a vector.
        Vector256<float> a0 = Avx.UnpackLow(r0, r1), a1 = Avx.UnpackHigh(r0, r1);
        Vector256<float> a2 = Avx.UnpackLow(r2, r3), a3 = Avx.UnpackHigh(r2, r3);
        Vector256<float> a4 = Avx.UnpackLow(r4, r5), a5 = Avx.UnpackHigh(r4, r5);
        Vector256<float> a6 = Avx.UnpackLow(r6, r7), a7 = Avx.UnpackHigh(r6, r7);
        Vector256<double> b0 = Avx.UnpackLow(a0.AsDouble(), a2.AsDouble()), b1 = Avx.UnpackHigh(a0.AsDouble(), a2.AsDouble());
        Vector256<double> b2 = Avx.UnpackLow(a1.AsDouble(), a3.AsDouble()), b3 = Avx.UnpackHigh(a1.AsDouble(), a3.AsDouble());
        Vector256<double> b4 = Avx.UnpackLow(a4.AsDouble(), a6.AsDouble()), b5 = Avx.UnpackHigh(a4.AsDouble(), a6.AsDouble());
        Vector256<double> b6 = Avx.UnpackLow(a5.AsDouble(), a7.AsDouble()), b7 = Avx.UnpackHigh(a5.AsDouble(), a7.AsDouble());
        r0 = Avx.Permute2x128(b0, b4, 0x20).AsSingle();
        r1 = Avx.Permute2x128(b1, b5, 0x20).AsSingle();
        r2 = Avx.Permute2x128(b2, b6, 0x20).AsSingle();
        r3 = Avx.Permute2x128(b3, b7, 0x20).AsSingle();
        r4 = Avx.Permute2x128(b0, b4, 0x31).AsSingle();
        r5 = Avx.Permute2x128(b1, b5, 0x31).AsSingle();
        r6 = Avx.Permute2x128(b2, b6, 0x31).AsSingle();
        r7 = Avx.Permute2x128(b3, b7, 0x31).AsSingle();
    }

    /// <summary>Eight floats as doubles.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> Widen(Vector256<float> lanes) => Avx512F.ConvertToVector512Double(lanes);

    /// <summary>Eight whole numbers as doubles.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> Widen(Vector256<int> lanes) => Avx512F.ConvertToVector512Double(lanes);

    /// <summary>Eight doubles as floats, rounded to nearest.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Narrow(Vector512<double> lanes) => Avx512F.ConvertToVector256Single(lanes);
}
