using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// One to four planar stereo sounds as frames of eight lanes in double, left and right of each beside each other, and
/// back. Lanes without a sound hold silence and are not written back.
/// </summary>
internal static class GroupFrames
{
    private const int Rows = 8;
    private const float SmallestNormal = 1.17549435e-38f;

    /// <summary>Fills the frames from the sounds, from a frame of theirs on.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Gather(ReadOnlySpan<PlanarStereo> sounds, int start, Span<Vector512<double>> frames, float[] idle)
    {
        ref float m0 = ref Memory(sounds, 0, start, idle), m1 = ref Memory(sounds, 1, start, idle);
        ref float m2 = ref Memory(sounds, 2, start, idle), m3 = ref Memory(sounds, 3, start, idle);
        ref float m4 = ref Memory(sounds, 4, start, idle), m5 = ref Memory(sounds, 5, start, idle);
        ref float m6 = ref Memory(sounds, 6, start, idle), m7 = ref Memory(sounds, 7, start, idle);
        ref Vector512<double> to = ref MemoryMarshal.GetReference(frames);
        int n = 0;
        for (; n <= frames.Length - Rows; n += Rows)
        {
            Vector256<float> r0 = Vector256.LoadUnsafe(ref m0, (nuint)n), r1 = Vector256.LoadUnsafe(ref m1, (nuint)n);
            Vector256<float> r2 = Vector256.LoadUnsafe(ref m2, (nuint)n), r3 = Vector256.LoadUnsafe(ref m3, (nuint)n);
            Vector256<float> r4 = Vector256.LoadUnsafe(ref m4, (nuint)n), r5 = Vector256.LoadUnsafe(ref m5, (nuint)n);
            Vector256<float> r6 = Vector256.LoadUnsafe(ref m6, (nuint)n), r7 = Vector256.LoadUnsafe(ref m7, (nuint)n);
            EightRows.Turn(ref r0, ref r1, ref r2, ref r3, ref r4, ref r5, ref r6, ref r7);
            ref Vector512<double> eight = ref Unsafe.Add(ref to, n);
            eight = EightRows.Widen(r0);
            Unsafe.Add(ref eight, 1) = EightRows.Widen(r1);
            Unsafe.Add(ref eight, 2) = EightRows.Widen(r2);
            Unsafe.Add(ref eight, 3) = EightRows.Widen(r3);
            Unsafe.Add(ref eight, 4) = EightRows.Widen(r4);
            Unsafe.Add(ref eight, 5) = EightRows.Widen(r5);
            Unsafe.Add(ref eight, 6) = EightRows.Widen(r6);
            Unsafe.Add(ref eight, 7) = EightRows.Widen(r7);
        }

        for (; n < frames.Length; n++)
        {
            frames[n] = EightRows.Widen(Vector256.Create(
                Unsafe.Add(ref m0, n), Unsafe.Add(ref m1, n), Unsafe.Add(ref m2, n), Unsafe.Add(ref m3, n),
                Unsafe.Add(ref m4, n), Unsafe.Add(ref m5, n), Unsafe.Add(ref m6, n), Unsafe.Add(ref m7, n)));
        }
    }

    /// <summary>Puts the frames back: rounded to nearest, subnormal values to 0.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Scatter(ReadOnlySpan<Vector512<double>> frames, ReadOnlySpan<PlanarStereo> sounds, int start, float[] idle)
    {
        ref float m0 = ref Memory(sounds, 0, start, idle), m1 = ref Memory(sounds, 1, start, idle);
        ref float m2 = ref Memory(sounds, 2, start, idle), m3 = ref Memory(sounds, 3, start, idle);
        ref float m4 = ref Memory(sounds, 4, start, idle), m5 = ref Memory(sounds, 5, start, idle);
        ref float m6 = ref Memory(sounds, 6, start, idle), m7 = ref Memory(sounds, 7, start, idle);
        ref Vector512<double> from = ref MemoryMarshal.GetReference(frames);
        int n = 0;
        for (; n <= frames.Length - Rows; n += Rows)
        {
            ref Vector512<double> eight = ref Unsafe.Add(ref from, n);
            Vector256<float> r0 = Narrow(eight), r1 = Narrow(Unsafe.Add(ref eight, 1));
            Vector256<float> r2 = Narrow(Unsafe.Add(ref eight, 2)), r3 = Narrow(Unsafe.Add(ref eight, 3));
            Vector256<float> r4 = Narrow(Unsafe.Add(ref eight, 4)), r5 = Narrow(Unsafe.Add(ref eight, 5));
            Vector256<float> r6 = Narrow(Unsafe.Add(ref eight, 6)), r7 = Narrow(Unsafe.Add(ref eight, 7));
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

        for (; n < frames.Length; n++)
        {
            Vector256<float> frame = Narrow(frames[n]);
            Unsafe.Add(ref m0, n) = frame.GetElement(0);
            Unsafe.Add(ref m1, n) = frame.GetElement(1);
            Unsafe.Add(ref m2, n) = frame.GetElement(2);
            Unsafe.Add(ref m3, n) = frame.GetElement(3);
            Unsafe.Add(ref m4, n) = frame.GetElement(4);
            Unsafe.Add(ref m5, n) = frame.GetElement(5);
            Unsafe.Add(ref m6, n) = frame.GetElement(6);
            Unsafe.Add(ref m7, n) = frame.GetElement(7);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Narrow(Vector512<double> lanes)
    {
        Vector256<float> rounded = EightRows.Narrow(lanes);
        Vector256<float> tiny = Vector256.LessThan(Vector256.Abs(rounded), Vector256.Create(SmallestNormal));
        return Vector256.AndNot(rounded, tiny);
    }

    // Lanes without a sound work on memory that nobody looks at.
    private static ref float Memory(ReadOnlySpan<PlanarStereo> sounds, int row, int start, float[] idle)
    {
        if (row >= 2 * sounds.Length)
        {
            return ref MemoryMarshal.GetArrayDataReference(idle);
        }

        float[] samples = row % 2 == 0 ? sounds[row / 2].Left : sounds[row / 2].Right;
        return ref samples[start];
    }
}
