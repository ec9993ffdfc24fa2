using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Simd;

/// <summary>Eight planar channels as rows of eight lanes, a row a frame, and back.</summary>
internal static class LaneRows
{
    /// <summary>Lanes of a row.</summary>
    public const int Lanes = 8;

    /// <summary>Fills the rows from the channels' beginnings.</summary>
    /// <param name="channels">Eight channels, each as long as the rows.</param>
    /// <param name="rows">A multiple of eight.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Gather(ReadOnlySpan<float[]> channels, Span<Vector256<float>> rows)
    {
        ref float m0 = ref Memory(channels, 0), m1 = ref Memory(channels, 1), m2 = ref Memory(channels, 2), m3 = ref Memory(channels, 3);
        ref float m4 = ref Memory(channels, 4), m5 = ref Memory(channels, 5), m6 = ref Memory(channels, 6), m7 = ref Memory(channels, 7);
        for (int n = 0; n < rows.Length; n += Lanes)
        {
            Vector256<float> r0 = Vector256.LoadUnsafe(ref m0, (nuint)n), r1 = Vector256.LoadUnsafe(ref m1, (nuint)n);
            Vector256<float> r2 = Vector256.LoadUnsafe(ref m2, (nuint)n), r3 = Vector256.LoadUnsafe(ref m3, (nuint)n);
            Vector256<float> r4 = Vector256.LoadUnsafe(ref m4, (nuint)n), r5 = Vector256.LoadUnsafe(ref m5, (nuint)n);
            Vector256<float> r6 = Vector256.LoadUnsafe(ref m6, (nuint)n), r7 = Vector256.LoadUnsafe(ref m7, (nuint)n);
            EightRows.Turn(ref r0, ref r1, ref r2, ref r3, ref r4, ref r5, ref r6, ref r7);
            ref Vector256<float> to = ref rows[n];
            (to, Unsafe.Add(ref to, 1), Unsafe.Add(ref to, 2), Unsafe.Add(ref to, 3)) = (r0, r1, r2, r3);
            (Unsafe.Add(ref to, 4), Unsafe.Add(ref to, 5), Unsafe.Add(ref to, 6), Unsafe.Add(ref to, 7)) = (r4, r5, r6, r7);
        }
    }

    /// <summary>Puts the rows back into the channels.</summary>
    /// <param name="rows">A multiple of eight.</param>
    /// <param name="channels">Eight channels, each as long as the rows; one that stands there twice holds the later lane.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Scatter(ReadOnlySpan<Vector256<float>> rows, ReadOnlySpan<float[]> channels)
    {
        ref float m0 = ref Memory(channels, 0), m1 = ref Memory(channels, 1), m2 = ref Memory(channels, 2), m3 = ref Memory(channels, 3);
        ref float m4 = ref Memory(channels, 4), m5 = ref Memory(channels, 5), m6 = ref Memory(channels, 6), m7 = ref Memory(channels, 7);
        ref Vector256<float> from = ref MemoryMarshal.GetReference(rows);
        for (int n = 0; n < rows.Length; n += Lanes, from = ref Unsafe.Add(ref from, Lanes))
        {
            Vector256<float> r0 = from, r1 = Unsafe.Add(ref from, 1), r2 = Unsafe.Add(ref from, 2), r3 = Unsafe.Add(ref from, 3);
            Vector256<float> r4 = Unsafe.Add(ref from, 4), r5 = Unsafe.Add(ref from, 5), r6 = Unsafe.Add(ref from, 6), r7 = Unsafe.Add(ref from, 7);
            EightRows.Turn(ref r0, ref r1, ref r2, ref r3, ref r4, ref r5, ref r6, ref r7);
            r0.StoreUnsafe(ref m0, (nuint)n);
            r1.StoreUnsafe(ref m1, (nuint)n);
            r2.StoreUnsafe(ref m2, (nuint)n);
            r3.StoreUnsafe(ref m3, (nuint)n);
            r4.StoreUnsafe(ref m4, (nuint)n);
            r5.StoreUnsafe(ref m5, (nuint)n);
            r6.StoreUnsafe(ref m6, (nuint)n);
            r7.StoreUnsafe(ref m7, (nuint)n);
        }
    }

    private static ref float Memory(ReadOnlySpan<float[]> channels, int lane) => ref MemoryMarshal.GetArrayDataReference(channels[lane]);
}
