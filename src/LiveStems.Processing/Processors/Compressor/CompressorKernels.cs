using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Dynamics;

namespace LiveStems.Processing.Processors.Compressor;

/// <summary>
/// The parts of the compressor without memory, eight or sixteen frames at once. What is left over goes through a scratch,
/// so the last frames of a block go through the same operations as all others.
/// </summary>
internal static class CompressorKernels
{
    /// <summary>
    /// Writes the reduction in dB that the curve asks for, from key samples or mean powers. At a link of 1 both channels
    /// have that of the louder one, and the left alone is written.
    /// </summary>
    /// <param name="keyLeft">Left key.</param>
    /// <param name="keyRight">Right key, as long.</param>
    /// <param name="isPower">True when the key holds mean powers.</param>
    /// <param name="curve">From level to reduction.</param>
    /// <param name="link">0 to 1.</param>
    /// <param name="left">Where the left reductions go; whole vectors of eight are written. May be the key.</param>
    /// <param name="right">Where the right reductions go.</param>
    public static void ToReduction(
        ReadOnlySpan<float> keyLeft,
        ReadOnlySpan<float> keyRight,
        bool isPower,
        in GainComputer curve,
        float link,
        Span<float> left,
        Span<float> right)
    {
        int done = 0;
        if (BallisticsGroup.IsSupported && link >= 1)
        {
            done = isPower ? LinkedPowers(keyLeft, keyRight, curve, left) : LinkedMagnitudes(keyLeft, keyRight, curve, left);
        }

        if (done < keyLeft.Length)
        {
            Rest(done, keyLeft, keyRight, isPower, curve, link, left, right);
        }
    }

    // What a setting does not need is in a method of its own, since every method is compiled as a whole when it is first called.
    [MethodImpl(MethodImplOptions.AggressiveOptimization | MethodImplOptions.NoInlining)]
    private static int LinkedMagnitudes(ReadOnlySpan<float> keyLeft, ReadOnlySpan<float> keyRight, in GainComputer curve, Span<float> left) =>
        Linked(keyLeft, keyRight, isPower: false, curve, left);

    [MethodImpl(MethodImplOptions.AggressiveOptimization | MethodImplOptions.NoInlining)]
    private static int LinkedPowers(ReadOnlySpan<float> keyLeft, ReadOnlySpan<float> keyRight, in GainComputer curve, Span<float> left) =>
        Linked(keyLeft, keyRight, isPower: true, curve, left);

    // Whole vectors of sixteen; returns how many frames that were.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static int Linked(ReadOnlySpan<float> keyLeft, ReadOnlySpan<float> keyRight, bool isPower, in GainComputer curve, Span<float> left)
    {
        GainComputer.VectorisedTwice twice = curve.Vectorise().Twice();
        Vector512<float> start = Vector512.Create(isPower ? curve.StartPower : curve.StartMagnitude);
        ref float fromLeft = ref MemoryMarshal.GetReference(keyLeft);
        ref float fromRight = ref MemoryMarshal.GetReference(keyRight);
        ref float toLeft = ref MemoryMarshal.GetReference(left);
        int i = 0;
        for (; i <= keyLeft.Length - Vector512<float>.Count; i += Vector512<float>.Count)
        {
            Vector512<float> a = Vector512.Abs(Vector512.LoadUnsafe(ref fromLeft, (nuint)i));
            Vector512<float> b = Vector512.Abs(Vector512.LoadUnsafe(ref fromRight, (nuint)i));
            Vector512<float> louder = Vector512.ConditionalSelect(Vector512.GreaterThan(b, a), b, a);
            if (!Vector512.GreaterThanAny(louder, start))
            {
                // What the curve says of all of them too.
                Vector512<float>.Zero.StoreUnsafe(ref toLeft, (nuint)i);
                continue;
            }

            twice.ReductionDb(isPower ? LevelDetector.PowerDb(louder) : LevelDetector.MagnitudeDb(louder))
                .StoreUnsafe(ref toLeft, (nuint)i);
        }

        return i;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization | MethodImplOptions.NoInlining)]
    private static void Rest(
        int done,
        ReadOnlySpan<float> keyLeft,
        ReadOnlySpan<float> keyRight,
        bool isPower,
        in GainComputer curve,
        float link,
        Span<float> left,
        Span<float> right)
    {
        GainComputer.Vectorised computer = curve.Vectorise();
        int whole = keyLeft.Length & -Vector256<float>.Count;
        ref float fromLeft = ref MemoryMarshal.GetReference(keyLeft);
        ref float fromRight = ref MemoryMarshal.GetReference(keyRight);
        ref float toLeft = ref MemoryMarshal.GetReference(left);
        ref float toRight = ref MemoryMarshal.GetReference(right);
        for (int i = done; i < whole; i += Vector256<float>.Count)
        {
            (Vector256<float> a, Vector256<float> b) = Reductions(
                Vector256.LoadUnsafe(ref fromLeft, (nuint)i), Vector256.LoadUnsafe(ref fromRight, (nuint)i), isPower, computer, link);
            a.StoreUnsafe(ref toLeft, (nuint)i);
            b.StoreUnsafe(ref toRight, (nuint)i);
        }

        if (whole < keyLeft.Length)
        {
            (Vector256<float> a, Vector256<float> b) = Reductions(Filled(keyLeft[whole..]), Filled(keyRight[whole..]), isPower, computer, link);
            a.StoreUnsafe(ref toLeft, (nuint)whole);
            b.StoreUnsafe(ref toRight, (nuint)whole);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static (Vector256<float> Left, Vector256<float> Right) Reductions(
        Vector256<float> keyLeft, Vector256<float> keyRight, bool isPower, in GainComputer.Vectorised computer, float link)
    {
        Vector256<float> a = Vector256.Abs(keyLeft);
        Vector256<float> b = Vector256.Abs(keyRight);
        if (link >= 1)
        {
            a = Reduction(Vector256.ConditionalSelect(Vector256.GreaterThan(b, a), b, a), isPower, computer);
            return (a, a);
        }

        a = Reduction(a, isPower, computer);
        b = Reduction(b, isPower, computer);
        Vector256<float> share = Vector256.Create(link);
        Vector256<float> deeper = Vector256.MaxNative(a, b);
        return (Vector256.FusedMultiplyAdd(share, deeper - a, a), Vector256.FusedMultiplyAdd(share, deeper - b, b));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Reduction(Vector256<float> level, bool isPower, in GainComputer.Vectorised computer) =>
        computer.ReductionDb(isPower ? LevelDetector.PowerDb(level) : LevelDetector.MagnitudeDb(level));

    private static Vector256<float> Filled(ReadOnlySpan<float> samples)
    {
        Span<float> eight = stackalloc float[Vector256<float>.Count];
        eight.Clear();
        samples.CopyTo(eight);
        return Vector256.Create<float>(eight);
    }
}
