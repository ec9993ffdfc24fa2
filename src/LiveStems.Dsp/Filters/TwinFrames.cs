using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// Two planar stereo sounds as frames of four lanes in double, left and right of each beside each other, and back.
/// </summary>
internal static class TwinFrames
{
    private const int Rows = 8;
    private const float SmallestNormal = 1.17549435e-38f;

    /// <summary>Fills the frames from the sounds, from a frame of theirs on.</summary>
    public static void Gather(in PlanarStereo first, in PlanarStereo second, int start, Span<Vector256<double>> frames)
    {
        ref float m0 = ref first.Left[start], m1 = ref first.Right[start];
        ref float m2 = ref second.Left[start], m3 = ref second.Right[start];
        ref Vector256<double> to = ref MemoryMarshal.GetReference(frames);
        int n = 0;
        for (; n <= frames.Length - Rows; n += Rows)
        {
            Vector256<float> r0 = Vector256.LoadUnsafe(ref m0, (nuint)n), r1 = Vector256.LoadUnsafe(ref m1, (nuint)n);
            Vector256<float> r2 = Vector256.LoadUnsafe(ref m2, (nuint)n), r3 = Vector256.LoadUnsafe(ref m3, (nuint)n);
            Turn(ref r0, ref r1, ref r2, ref r3);
            ref Vector256<double> eight = ref Unsafe.Add(ref to, n);
            eight = Avx.ConvertToVector256Double(r0.GetLower());
            Unsafe.Add(ref eight, 1) = Avx.ConvertToVector256Double(r1.GetLower());
            Unsafe.Add(ref eight, 2) = Avx.ConvertToVector256Double(r2.GetLower());
            Unsafe.Add(ref eight, 3) = Avx.ConvertToVector256Double(r3.GetLower());
            Unsafe.Add(ref eight, 4) = Avx.ConvertToVector256Double(r0.GetUpper());
            Unsafe.Add(ref eight, 5) = Avx.ConvertToVector256Double(r1.GetUpper());
            Unsafe.Add(ref eight, 6) = Avx.ConvertToVector256Double(r2.GetUpper());
            Unsafe.Add(ref eight, 7) = Avx.ConvertToVector256Double(r3.GetUpper());
        }

        for (; n < frames.Length; n++)
        {
            frames[n] = Avx.ConvertToVector256Double(Vector128.Create(
                Unsafe.Add(ref m0, n), Unsafe.Add(ref m1, n), Unsafe.Add(ref m2, n), Unsafe.Add(ref m3, n)));
        }
    }

    /// <summary>Puts the frames back: rounded to nearest, subnormal values to 0.</summary>
    public static void Scatter(ReadOnlySpan<Vector256<double>> frames, in PlanarStereo first, in PlanarStereo second, int start)
    {
        ref float m0 = ref first.Left[start], m1 = ref first.Right[start];
        ref float m2 = ref second.Left[start], m3 = ref second.Right[start];
        ref Vector256<double> from = ref MemoryMarshal.GetReference(frames);
        int n = 0;
        for (; n <= frames.Length - Rows; n += Rows)
        {
            ref Vector256<double> eight = ref Unsafe.Add(ref from, n);
            Vector256<float> r0 = Narrow(eight, Unsafe.Add(ref eight, 4)), r1 = Narrow(Unsafe.Add(ref eight, 1), Unsafe.Add(ref eight, 5));
            Vector256<float> r2 = Narrow(Unsafe.Add(ref eight, 2), Unsafe.Add(ref eight, 6)), r3 = Narrow(Unsafe.Add(ref eight, 3), Unsafe.Add(ref eight, 7));
            Turn(ref r0, ref r1, ref r2, ref r3);
            r0.StoreUnsafe(ref m0, (nuint)n);
            r1.StoreUnsafe(ref m1, (nuint)n);
            r2.StoreUnsafe(ref m2, (nuint)n);
            r3.StoreUnsafe(ref m3, (nuint)n);
        }

        for (; n < frames.Length; n++)
        {
            Vector256<float> frame = Narrow(frames[n], default);
            Unsafe.Add(ref m0, n) = frame.GetElement(0);
            Unsafe.Add(ref m1, n) = frame.GetElement(1);
            Unsafe.Add(ref m2, n) = frame.GetElement(2);
            Unsafe.Add(ref m3, n) = frame.GetElement(3);
        }
    }

    // Turns the square of four in each half of the vectors; done twice, all is where it was.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Turn(ref Vector256<float> r0, ref Vector256<float> r1, ref Vector256<float> r2, ref Vector256<float> r3)
    {
        Vector256<double> a = Avx.UnpackLow(r0, r1).AsDouble(), b = Avx.UnpackHigh(r0, r1).AsDouble();
        Vector256<double> c = Avx.UnpackLow(r2, r3).AsDouble(), d = Avx.UnpackHigh(r2, r3).AsDouble();
        r0 = Avx.UnpackLow(a, c).AsSingle();
        r1 = Avx.UnpackHigh(a, c).AsSingle();
        r2 = Avx.UnpackLow(b, d).AsSingle();
        r3 = Avx.UnpackHigh(b, d).AsSingle();
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Narrow(Vector256<double> early, Vector256<double> late)
    {
        Vector256<float> rounded = Vector256.Create(Avx.ConvertToVector128Single(early), Avx.ConvertToVector128Single(late));
        Vector256<float> tiny = Vector256.LessThan(Vector256.Abs(rounded), Vector256.Create(SmallestNormal));
        return Vector256.AndNot(rounded, tiny);
    }
}
