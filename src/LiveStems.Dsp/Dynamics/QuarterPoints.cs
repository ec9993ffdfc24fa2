using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The points a quarter and three quarters of the way from a sample to the next, from the samples and the points
/// half-way: 5 taps a side, right within 0.001 dB up to 0.52 of the doubled rate's half (minimax, Lawson's iteration).
/// </summary>
internal static class QuarterPoints
{
    /// <summary>Samples that it looks back or ahead from its own.</summary>
    public const int Reach = 3;

    private const float T0 = 0.6162975430488586f;
    private const float T1 = -0.15769554674625397f;
    private const float T2 = 0.054137349128723145f;
    private const float T3 = -0.0152188241481781f;
    private const float T4 = 0.0025368784554302692f;

    /// <summary>
    /// Works through whole vectors of eight.
    /// </summary>
    /// <param name="samples">The first sample.</param>
    /// <param name="halves">The point half-way from it to the next.</param>
    /// <param name="firsts">Where its first quarter point goes.</param>
    /// <param name="lasts">Where its last quarter point goes.</param>
    /// <param name="count">Samples; up to seven more are worked out.</param>
    public static void Make(ref float samples, ref float halves, ref float firsts, ref float lasts, int count)
    {
        int done = Vector512.IsHardwareAccelerated ? Sixteens(ref samples, ref halves, ref firsts, ref lasts, count) : 0;
        if (done < count)
        {
            Eights(ref samples, ref halves, ref firsts, ref lasts, done, count);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static int Sixteens(ref float samples, ref float halves, ref float firsts, ref float lasts, int count)
    {
        int i = 0;
        for (; i + Vector256<float>.Count < count; i += Vector512<float>.Count)
        {
            ref float x = ref Unsafe.Add(ref samples, i);
            ref float h = ref Unsafe.Add(ref halves, i);
            Vector512<float> before1 = Wide(ref x, -1);
            Vector512<float> sample = Wide(ref x, 0);
            Vector512<float> after1 = Wide(ref x, 1);
            Vector512<float> after2 = Wide(ref x, 2);
            Vector512<float> halfBefore2 = Wide(ref h, -2);
            Vector512<float> halfBefore1 = Wide(ref h, -1);
            Vector512<float> half = Wide(ref h, 0);
            Vector512<float> halfAfter1 = Wide(ref h, 1);
            Vector512<float> halfAfter2 = Wide(ref h, 2);

            Vector512<float> first = Vector512.Create(T0) * (sample + half);
            first = Vector512.FusedMultiplyAdd(Vector512.Create(T1), halfBefore1 + after1, first);
            first = Vector512.FusedMultiplyAdd(Vector512.Create(T2), before1 + halfAfter1, first);
            first = Vector512.FusedMultiplyAdd(Vector512.Create(T3), halfBefore2 + after2, first);
            first = Vector512.FusedMultiplyAdd(Vector512.Create(T4), Wide(ref x, -2) + halfAfter2, first);
            first.StoreUnsafe(ref firsts, (nuint)i);

            Vector512<float> last = Vector512.Create(T0) * (half + after1);
            last = Vector512.FusedMultiplyAdd(Vector512.Create(T1), sample + halfAfter1, last);
            last = Vector512.FusedMultiplyAdd(Vector512.Create(T2), halfBefore1 + after2, last);
            last = Vector512.FusedMultiplyAdd(Vector512.Create(T3), before1 + halfAfter2, last);
            last = Vector512.FusedMultiplyAdd(Vector512.Create(T4), halfBefore2 + Wide(ref x, 3), last);
            last.StoreUnsafe(ref lasts, (nuint)i);
        }

        return i;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Eights(ref float samples, ref float halves, ref float firsts, ref float lasts, int from, int count)
    {
        for (int i = from; i < count; i += Vector256<float>.Count)
        {
            ref float x = ref Unsafe.Add(ref samples, i);
            ref float h = ref Unsafe.Add(ref halves, i);
            Vector256<float> before1 = At(ref x, -1);
            Vector256<float> sample = At(ref x, 0);
            Vector256<float> after1 = At(ref x, 1);
            Vector256<float> after2 = At(ref x, 2);
            Vector256<float> halfBefore2 = At(ref h, -2);
            Vector256<float> halfBefore1 = At(ref h, -1);
            Vector256<float> half = At(ref h, 0);
            Vector256<float> halfAfter1 = At(ref h, 1);
            Vector256<float> halfAfter2 = At(ref h, 2);

            Vector256<float> first = Vector256.Create(T0) * (sample + half);
            first = Vector256.FusedMultiplyAdd(Vector256.Create(T1), halfBefore1 + after1, first);
            first = Vector256.FusedMultiplyAdd(Vector256.Create(T2), before1 + halfAfter1, first);
            first = Vector256.FusedMultiplyAdd(Vector256.Create(T3), halfBefore2 + after2, first);
            first = Vector256.FusedMultiplyAdd(Vector256.Create(T4), At(ref x, -2) + halfAfter2, first);
            first.StoreUnsafe(ref firsts, (nuint)i);

            Vector256<float> last = Vector256.Create(T0) * (half + after1);
            last = Vector256.FusedMultiplyAdd(Vector256.Create(T1), sample + halfAfter1, last);
            last = Vector256.FusedMultiplyAdd(Vector256.Create(T2), halfBefore1 + after2, last);
            last = Vector256.FusedMultiplyAdd(Vector256.Create(T3), before1 + halfAfter2, last);
            last = Vector256.FusedMultiplyAdd(Vector256.Create(T4), halfBefore2 + At(ref x, 3), last);
            last.StoreUnsafe(ref lasts, (nuint)i);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Wide(ref float x, int offset) =>
        Vector512.LoadUnsafe(ref Unsafe.Add(ref x, offset));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> At(ref float x, int offset) =>
        Vector256.LoadUnsafe(ref Unsafe.Add(ref x, offset));
}
