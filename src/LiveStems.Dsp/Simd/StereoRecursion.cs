using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Simd;

/// <summary>One frame of a recursion that runs left and right side by side in double.</summary>
internal interface IStereoStep
{
    /// <summary>The next output [left, right] for the next input.</summary>
    Vector128<double> Next(Vector128<double> frame);
}

/// <summary>Runs a recursion over planar channels.</summary>
/// <remarks>
/// Four frames are converted at once: converting sample by sample would chain each frame to the one before through the
/// upper half of the conversion's register, and cost three times as much. The step is a struct, so each recursion gets a
/// loop of its own with its state in registers. The loops of this library are compiled with full optimisation at once:
/// the first block of a song must not take ten times as long as the thousandth.
/// </remarks>
internal static class StereoRecursion
{
    private const int Group = 4;

    /// <summary>
    /// Runs over spans of one length. Outputs may be the inputs; left and right may be the same memory, which then
    /// holds the left channel's answer.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Run<TStep>(
        ref TStep recursion,
        ReadOnlySpan<float> inLeft,
        ReadOnlySpan<float> inRight,
        Span<float> outLeft,
        Span<float> outRight)
        where TStep : struct, IStereoStep
    {
        int frames = inLeft.Length;
        ref float fromLeft = ref MemoryMarshal.GetReference(inLeft);
        ref float fromRight = ref MemoryMarshal.GetReference(inRight[..frames]);
        ref float toLeft = ref MemoryMarshal.GetReference(outLeft[..frames]);
        ref float toRight = ref MemoryMarshal.GetReference(outRight[..frames]);
        TStep step = recursion;
        int i = 0;
        for (; i <= frames - Group; i += Group)
        {
            (Vector128<double> left01, Vector128<double> left23) = Vector128.Widen(Vector128.LoadUnsafe(ref fromLeft, (nuint)i));
            (Vector128<double> right01, Vector128<double> right23) = Vector128.Widen(Vector128.LoadUnsafe(ref fromRight, (nuint)i));
            Vector128<double> frame0 = step.Next(Low(left01, right01));
            Vector128<double> frame1 = step.Next(High(left01, right01));
            Vector128<double> frame2 = step.Next(Low(left23, right23));
            Vector128<double> frame3 = step.Next(High(left23, right23));
            Vector128.Narrow(High(frame0, frame1), High(frame2, frame3)).StoreUnsafe(ref toRight, (nuint)i);
            Vector128.Narrow(Low(frame0, frame1), Low(frame2, frame3)).StoreUnsafe(ref toLeft, (nuint)i);
        }

        for (; i < frames; i++)
        {
            Vector128<double> frame = step.Next(Vector128.Create((double)Unsafe.Add(ref fromLeft, i), Unsafe.Add(ref fromRight, i)));
            Unsafe.Add(ref toRight, i) = (float)frame.GetElement(1);
            Unsafe.Add(ref toLeft, i) = (float)frame.ToScalar();
        }

        recursion = step;
    }

    /// <summary>The same with the outputs in double.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Run<TStep>(
        ref TStep recursion,
        ReadOnlySpan<float> inLeft,
        ReadOnlySpan<float> inRight,
        Span<double> outLeft,
        Span<double> outRight)
        where TStep : struct, IStereoStep
    {
        int frames = inLeft.Length;
        ref float fromLeft = ref MemoryMarshal.GetReference(inLeft);
        ref float fromRight = ref MemoryMarshal.GetReference(inRight[..frames]);
        ref double toLeft = ref MemoryMarshal.GetReference(outLeft[..frames]);
        ref double toRight = ref MemoryMarshal.GetReference(outRight[..frames]);
        TStep step = recursion;
        int i = 0;
        for (; i <= frames - Group; i += Group)
        {
            (Vector128<double> left01, Vector128<double> left23) = Vector128.Widen(Vector128.LoadUnsafe(ref fromLeft, (nuint)i));
            (Vector128<double> right01, Vector128<double> right23) = Vector128.Widen(Vector128.LoadUnsafe(ref fromRight, (nuint)i));
            Vector128<double> frame0 = step.Next(Low(left01, right01));
            Vector128<double> frame1 = step.Next(High(left01, right01));
            Vector128<double> frame2 = step.Next(Low(left23, right23));
            Vector128<double> frame3 = step.Next(High(left23, right23));
            Vector256.Create(High(frame0, frame1), High(frame2, frame3)).StoreUnsafe(ref toRight, (nuint)i);
            Vector256.Create(Low(frame0, frame1), Low(frame2, frame3)).StoreUnsafe(ref toLeft, (nuint)i);
        }

        for (; i < frames; i++)
        {
            Vector128<double> frame = step.Next(Vector128.Create((double)Unsafe.Add(ref fromLeft, i), Unsafe.Add(ref fromRight, i)));
            Unsafe.Add(ref toRight, i) = frame.GetElement(1);
            Unsafe.Add(ref toLeft, i) = frame.ToScalar();
        }

        recursion = step;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector128<double> Low(Vector128<double> a, Vector128<double> b) =>
        Vector128.Create(a.ToScalar(), b.ToScalar());

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector128<double> High(Vector128<double> a, Vector128<double> b) =>
        Vector128.Create(a.GetElement(1), b.GetElement(1));
}
