using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace LiveStems.Dsp.Spectral;

/// <summary>
/// Rearrangements of two vectors within their 128-bit halves, for which the portable vector types have no single
/// operation: one instruction where AVX is there, a select of two shuffles elsewhere.
/// </summary>
internal static class LaneShuffles
{
    private static Vector256<float> OddLanes => Vector256.Create(0, -1, 0, -1, 0, -1, 0, -1).AsSingle();

    private static Vector256<float> UpperPairs => Vector256.Create(0, 0, -1, -1, 0, 0, -1, -1).AsSingle();

    /// <summary>a0 b0 a1 b1 | a4 b4 a5 b5.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> InterleaveLow(Vector256<float> a, Vector256<float> b) => Avx.IsSupported
        ? Avx.UnpackLow(a, b)
        : Vector256.ConditionalSelect(
            OddLanes,
            Vector256.Shuffle(b, Vector256.Create(0, 0, 1, 1, 4, 4, 5, 5)),
            Vector256.Shuffle(a, Vector256.Create(0, 0, 1, 1, 4, 4, 5, 5)));

    /// <summary>a2 b2 a3 b3 | a6 b6 a7 b7.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> InterleaveHigh(Vector256<float> a, Vector256<float> b) => Avx.IsSupported
        ? Avx.UnpackHigh(a, b)
        : Vector256.ConditionalSelect(
            OddLanes,
            Vector256.Shuffle(b, Vector256.Create(2, 2, 3, 3, 6, 6, 7, 7)),
            Vector256.Shuffle(a, Vector256.Create(2, 2, 3, 3, 6, 6, 7, 7)));

    /// <summary>a0 a2 b0 b2 | a4 a6 b4 b6.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Evens(Vector256<float> a, Vector256<float> b) => Avx.IsSupported
        ? Avx.Shuffle(a, b, 0b10_00_10_00)
        : Vector256.ConditionalSelect(
            UpperPairs,
            Vector256.Shuffle(b, Vector256.Create(0, 2, 0, 2, 4, 6, 4, 6)),
            Vector256.Shuffle(a, Vector256.Create(0, 2, 0, 2, 4, 6, 4, 6)));

    /// <summary>a1 a3 b1 b3 | a5 a7 b5 b7.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Odds(Vector256<float> a, Vector256<float> b) => Avx.IsSupported
        ? Avx.Shuffle(a, b, 0b11_01_11_01)
        : Vector256.ConditionalSelect(
            UpperPairs,
            Vector256.Shuffle(b, Vector256.Create(1, 3, 1, 3, 5, 7, 5, 7)),
            Vector256.Shuffle(a, Vector256.Create(1, 3, 1, 3, 5, 7, 5, 7)));

    /// <summary>a0 a1 b0 b1 | a4 a5 b4 b5.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> LowPairs(Vector256<float> a, Vector256<float> b) => Avx.IsSupported
        ? Avx.Shuffle(a, b, 0b01_00_01_00)
        : Vector256.ConditionalSelect(
            UpperPairs,
            Vector256.Shuffle(b, Vector256.Create(0, 1, 0, 1, 4, 5, 4, 5)),
            a);

    /// <summary>a2 a3 b2 b3 | a6 a7 b6 b7.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> HighPairs(Vector256<float> a, Vector256<float> b) => Avx.IsSupported
        ? Avx.Shuffle(a, b, 0b11_10_11_10)
        : Vector256.ConditionalSelect(
            UpperPairs,
            b,
            Vector256.Shuffle(a, Vector256.Create(2, 3, 2, 3, 6, 7, 6, 7)));

    /// <summary>The eight lanes back to front.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> Reverse(Vector256<float> value) =>
        Vector256.Shuffle(value, Vector256.Create(7, 6, 5, 4, 3, 2, 1, 0));
}
