using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Filters;

/// <summary>Runs the sections of a <see cref="CascadeGroup"/> over a stretch of frames of eight lanes, in place.</summary>
/// <remarks>
/// Three or four sections go through the stretch together, each a frame behind the one before it, so that nothing within a
/// step waits for anything else. Fewer would wait for the recursion: one alone takes nearly as long as three. Of four, not
/// all coefficients fit into the registers; a fourth that would go alone is worth that.
/// </remarks>
internal static class GroupKernels
{
    /// <summary>Vectors of coefficients that a place in the cascades has.</summary>
    public const int CoefficientsAPlace = 5;

    /// <summary>Vectors of state that a place in the cascades has.</summary>
    public const int StatesAPlace = 2;

    /// <summary>Where in the coefficients of a place the share of the input stands.</summary>
    public const int FromX = 2;

    /// <summary>Runs the places from the first on.</summary>
    public static void Run(
        Span<Vector512<double>> frames, ReadOnlySpan<Vector512<double>> coefficients, Span<Vector512<double>> states, int places)
    {
        int place = 0;
        for (; IsForFour(places - place) && frames.Length > 3; place += 4)
        {
            Four(
                frames,
                ref Unsafe.AsRef(in coefficients[place * CoefficientsAPlace]),
                ref states[place * StatesAPlace]);
        }

        for (; place + 3 <= places && frames.Length > 2; place += 3)
        {
            Three(
                frames,
                ref Unsafe.AsRef(in coefficients[place * CoefficientsAPlace]),
                ref states[place * StatesAPlace]);
        }

        for (; place + 2 <= places && frames.Length > 1; place += 2)
        {
            Two(
                frames,
                ref Unsafe.AsRef(in coefficients[place * CoefficientsAPlace]),
                ref states[place * StatesAPlace]);
        }

        for (; place < places; place++)
        {
            One(
                frames,
                ref Unsafe.AsRef(in coefficients[place * CoefficientsAPlace]),
                ref states[place * StatesAPlace]);
        }
    }

    // Fours until the rest goes in threes; five go in three and two.
    private static bool IsForFour(int places) => places >= 4 && places != 5 && places % 3 != 0;

    // The recursions' coefficients stay in registers; those that only add the input and the second state are read where they
    // are used, which costs nothing beside the arithmetic.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Four(Span<Vector512<double>> frames, ref Vector512<double> coefficients, ref Vector512<double> states)
    {
        Vector512<double> toR0 = coefficients, toS0 = At(ref coefficients, 1), v0 = At(ref coefficients, 3);
        Vector512<double> toR1 = At(ref coefficients, 5), toS1 = At(ref coefficients, 6), v1 = At(ref coefficients, 8);
        Vector512<double> toR2 = At(ref coefficients, 10), toS2 = At(ref coefficients, 11), v2 = At(ref coefficients, 13);
        Vector512<double> toR3 = At(ref coefficients, 15), toS3 = At(ref coefficients, 16), v3 = At(ref coefficients, 18);
        Vector512<double> r0 = states, s0 = At(ref states, 1);
        Vector512<double> r1 = At(ref states, 2), s1 = At(ref states, 3);
        Vector512<double> r2 = At(ref states, 4), s2 = At(ref states, 5);
        Vector512<double> r3 = At(ref states, 6), s3 = At(ref states, 7);
        ref Vector512<double> frame = ref MemoryMarshal.GetReference(frames);
        ref Vector512<double> rest0 = ref Unsafe.Add(ref coefficients, FromX), rest1 = ref Unsafe.Add(ref rest0, 5);
        ref Vector512<double> rest2 = ref Unsafe.Add(ref rest0, 10), rest3 = ref Unsafe.Add(ref rest0, 15);
        int count = frames.Length;

        Vector512<double> y0 = Section(frame, ref r0, ref s0, toR0, toS0, rest0, v0, At(ref rest0, 2));
        Vector512<double> y1 = Section(y0, ref r1, ref s1, toR1, toS1, rest1, v1, At(ref rest1, 2));
        y0 = Section(Unsafe.Add(ref frame, 1), ref r0, ref s0, toR0, toS0, rest0, v0, At(ref rest0, 2));
        Vector512<double> y2 = Section(y1, ref r2, ref s2, toR2, toS2, rest2, v2, At(ref rest2, 2));
        y1 = Section(y0, ref r1, ref s1, toR1, toS1, rest1, v1, At(ref rest1, 2));
        y0 = Section(Unsafe.Add(ref frame, 2), ref r0, ref s0, toR0, toS0, rest0, v0, At(ref rest0, 2));
        for (int t = 3; t < count; t++)
        {
            ref Vector512<double> now = ref Unsafe.Add(ref frame, t);
            Vector512<double> y3 = Section(y2, ref r3, ref s3, toR3, toS3, rest3, v3, At(ref rest3, 2));
            y2 = Section(y1, ref r2, ref s2, toR2, toS2, rest2, v2, At(ref rest2, 2));
            y1 = Section(y0, ref r1, ref s1, toR1, toS1, rest1, v1, At(ref rest1, 2));
            y0 = Section(now, ref r0, ref s0, toR0, toS0, rest0, v0, At(ref rest0, 2));
            Unsafe.Subtract(ref now, 3) = y3;
        }

        for (int t = count - 3; t < count; t++)
        {
            // The first sections have come to the end.
            Unsafe.Add(ref frame, t) = Section(y2, ref r3, ref s3, toR3, toS3, rest3, v3, At(ref rest3, 2));
            if (t < count - 1)
            {
                y2 = Section(y1, ref r2, ref s2, toR2, toS2, rest2, v2, At(ref rest2, 2));
            }

            if (t < count - 2)
            {
                y1 = Section(y0, ref r1, ref s1, toR1, toS1, rest1, v1, At(ref rest1, 2));
            }
        }

        (states, Unsafe.Add(ref states, 1)) = (r0, s0);
        (Unsafe.Add(ref states, 2), Unsafe.Add(ref states, 3)) = (r1, s1);
        (Unsafe.Add(ref states, 4), Unsafe.Add(ref states, 5)) = (r2, s2);
        (Unsafe.Add(ref states, 6), Unsafe.Add(ref states, 7)) = (r3, s3);
    }

    // Every coefficient is a local of its own: only then do they all stay in registers.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Three(Span<Vector512<double>> frames, ref Vector512<double> coefficients, ref Vector512<double> states)
    {
        Vector512<double> toR0 = coefficients, toS0 = At(ref coefficients, 1), x0 = At(ref coefficients, FromX);
        Vector512<double> v0 = At(ref coefficients, 3), w0 = At(ref coefficients, 4);
        Vector512<double> toR1 = At(ref coefficients, 5), toS1 = At(ref coefficients, 6), x1 = At(ref coefficients, 5 + FromX);
        Vector512<double> v1 = At(ref coefficients, 8), w1 = At(ref coefficients, 9);
        Vector512<double> toR2 = At(ref coefficients, 10), toS2 = At(ref coefficients, 11), x2 = At(ref coefficients, 10 + FromX);
        Vector512<double> v2 = At(ref coefficients, 13), w2 = At(ref coefficients, 14);
        Vector512<double> r0 = states, s0 = At(ref states, 1);
        Vector512<double> r1 = At(ref states, 2), s1 = At(ref states, 3);
        Vector512<double> r2 = At(ref states, 4), s2 = At(ref states, 5);
        ref Vector512<double> frame = ref MemoryMarshal.GetReference(frames);
        int count = frames.Length;

        Vector512<double> y0 = Section(frame, ref r0, ref s0, toR0, toS0, x0, v0, w0);
        Vector512<double> y1 = Section(y0, ref r1, ref s1, toR1, toS1, x1, v1, w1);
        y0 = Section(Unsafe.Add(ref frame, 1), ref r0, ref s0, toR0, toS0, x0, v0, w0);
        for (int t = 2; t < count; t++)
        {
            ref Vector512<double> now = ref Unsafe.Add(ref frame, t);
            Vector512<double> y2 = Section(y1, ref r2, ref s2, toR2, toS2, x2, v2, w2);
            y1 = Section(y0, ref r1, ref s1, toR1, toS1, x1, v1, w1);
            y0 = Section(now, ref r0, ref s0, toR0, toS0, x0, v0, w0);
            Unsafe.Subtract(ref now, 2) = y2;
        }

        Unsafe.Add(ref frame, count - 2) = Section(y1, ref r2, ref s2, toR2, toS2, x2, v2, w2);
        y1 = Section(y0, ref r1, ref s1, toR1, toS1, x1, v1, w1);
        Unsafe.Add(ref frame, count - 1) = Section(y1, ref r2, ref s2, toR2, toS2, x2, v2, w2);

        (states, Unsafe.Add(ref states, 1)) = (r0, s0);
        (Unsafe.Add(ref states, 2), Unsafe.Add(ref states, 3)) = (r1, s1);
        (Unsafe.Add(ref states, 4), Unsafe.Add(ref states, 5)) = (r2, s2);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Two(Span<Vector512<double>> frames, ref Vector512<double> coefficients, ref Vector512<double> states)
    {
        Vector512<double> toR0 = coefficients, toS0 = At(ref coefficients, 1), x0 = At(ref coefficients, FromX);
        Vector512<double> v0 = At(ref coefficients, 3), w0 = At(ref coefficients, 4);
        Vector512<double> toR1 = At(ref coefficients, 5), toS1 = At(ref coefficients, 6), x1 = At(ref coefficients, 5 + FromX);
        Vector512<double> v1 = At(ref coefficients, 8), w1 = At(ref coefficients, 9);
        Vector512<double> r0 = states, s0 = At(ref states, 1);
        Vector512<double> r1 = At(ref states, 2), s1 = At(ref states, 3);
        ref Vector512<double> frame = ref MemoryMarshal.GetReference(frames);
        Vector512<double> y0 = Section(frame, ref r0, ref s0, toR0, toS0, x0, v0, w0);
        for (int t = 1; t < frames.Length; t++)
        {
            ref Vector512<double> now = ref Unsafe.Add(ref frame, t);
            Vector512<double> y1 = Section(y0, ref r1, ref s1, toR1, toS1, x1, v1, w1);
            y0 = Section(now, ref r0, ref s0, toR0, toS0, x0, v0, w0);
            Unsafe.Subtract(ref now, 1) = y1;
        }

        Unsafe.Add(ref frame, frames.Length - 1) = Section(y0, ref r1, ref s1, toR1, toS1, x1, v1, w1);
        (states, Unsafe.Add(ref states, 1)) = (r0, s0);
        (Unsafe.Add(ref states, 2), Unsafe.Add(ref states, 3)) = (r1, s1);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void One(Span<Vector512<double>> frames, ref Vector512<double> coefficients, ref Vector512<double> states)
    {
        Vector512<double> toR = coefficients, toS = At(ref coefficients, 1), fromX = At(ref coefficients, FromX);
        Vector512<double> fromV = At(ref coefficients, 3), fromS = At(ref coefficients, 4);
        Vector512<double> r = states, s = At(ref states, 1);
        foreach (ref Vector512<double> frame in frames)
        {
            frame = Section(frame, ref r, ref s, toR, toS, fromX, fromV, fromS);
        }

        (states, Unsafe.Add(ref states, 1)) = (r, s);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> At(ref Vector512<double> vectors, int index) => Unsafe.Add(ref vectors, index);

    /// <summary>A frame through one section: the operations of <see cref="StageCoefficients.Run"/>, in their order.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> Section(
        Vector512<double> x,
        ref Vector512<double> r,
        ref Vector512<double> s,
        Vector512<double> toR,
        Vector512<double> toS,
        Vector512<double> fromX,
        Vector512<double> fromV,
        Vector512<double> fromS)
    {
        Vector512<double> v = x + r;
        Vector512<double> y = Vector512.FusedMultiplyAdd(fromV, v, Vector512.FusedMultiplyAdd(fromX, x, fromS * s));
        Vector512<double> next = Vector512.FusedMultiplyAdd(toR, v, s);
        s = Vector512.FusedMultiplyAdd(toS, v, r);
        r = next;
        return y;
    }
}
