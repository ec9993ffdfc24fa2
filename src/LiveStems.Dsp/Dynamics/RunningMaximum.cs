using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The highest of the last W values, eight at a time, with the same small amount of work for every value.
/// </summary>
/// <remarks>
/// The maximum over 4c values is that of four maxima over c values, c apart; so each level takes four looks back and
/// covers four times as much, and the last one overlaps its looks to end at W exactly: 4 (1 + log4 W) comparisons for
/// eight values. Maxima do not depend on order or repetition, so the result is the same however the input is cut.
/// </remarks>
internal sealed class RunningMaximum
{
    private readonly int window;
    private readonly int room;
    private readonly int[] strides;
    private readonly float[][] inputs;
    private readonly float[] result;
    private int start;

    /// <summary>A maximum of a window.</summary>
    /// <param name="window">Values in the window, 1 or more.</param>
    /// <param name="maximumValues">The longest run handed over at once.</param>
    /// <param name="covered">Values come in as maxima over this many already, 1 to the window.</param>
    public RunningMaximum(int window, int maximumValues, int covered = 1)
    {
        this.window = window;
        room = 2 * maximumValues;
        result = Unmoved.Array<float>(maximumValues + Vector256<float>.Count);
        List<int> covers = [covered];
        while (covers[^1] * 4 < window)
        {
            covers.Add(covers[^1] * 4);
        }

        strides = [.. covers];
        inputs = new float[strides.Length][];
        for (int level = 0; level < inputs.Length; level++)
        {
            inputs[level] = Unmoved.Array<float>(History(level) + room + Vector256<float>.Count);
        }
    }

    /// <summary>Only zeros before.</summary>
    public void Reset()
    {
        foreach (float[] input in inputs)
        {
            Array.Clear(input);
        }

        start = 0;
    }

    /// <summary>Takes the state of another maximum of the same window.</summary>
    public void CopyFrom(RunningMaximum other)
    {
        for (int level = 0; level < inputs.Length; level++)
        {
            other.inputs[level].CopyTo(inputs[level], 0);
        }

        start = other.start;
    }

    /// <summary>
    /// Both become the maximum of what either has seen. They have the same window and have taken in the same runs.
    /// </summary>
    public void Join(RunningMaximum other)
    {
        for (int level = 0; level < inputs.Length; level++)
        {
            for (int i = 0; i < inputs[level].Length; i++)
            {
                inputs[level][i] = other.inputs[level][i] = Math.Max(inputs[level][i], other.inputs[level][i]);
            }
        }
    }

    /// <summary>Replaces each value (0 or above) by the highest of the window that ends with it.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Process(Span<float> values)
    {
        if (start + values.Length > room)
        {
            for (int level = 0; level < inputs.Length; level++)
            {
                inputs[level].AsSpan(start, History(level)).CopyTo(inputs[level]);
            }

            start = 0;
        }

        values.CopyTo(inputs[0].AsSpan(History(0) + start));
        for (int level = 0; level < inputs.Length; level++)
        {
            ref float from = ref inputs[level][History(level) + start];
            if (level + 1 < inputs.Length)
            {
                LookBack(ref from, strides[level], 3 * strides[level], ref inputs[level + 1][History(level + 1) + start], values.Length);
            }
            else
            {
                LookBack(ref from, strides[level], window - strides[level], ref result[0], values.Length);
            }
        }

        result.AsSpan(0, values.Length).CopyTo(values);
        start += values.Length;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void LookBack(ref float from, int stride, int farthest, ref float to, int count)
    {
        int first = Math.Min(stride, farthest);
        int second = Math.Min(2 * stride, farthest);
        int i = 0;
        for (; Vector512.IsHardwareAccelerated && i + Vector256<float>.Count < count; i += Vector512<float>.Count)
        {
            ref float here = ref Unsafe.Add(ref from, i);
            Vector512.MaxNative(
                Vector512.MaxNative(Sixteen(ref here, 0), Sixteen(ref here, first)),
                Vector512.MaxNative(Sixteen(ref here, second), Sixteen(ref here, farthest))).StoreUnsafe(ref to, (nuint)i);
        }

        for (; i < count; i += Vector256<float>.Count)
        {
            ref float here = ref Unsafe.Add(ref from, i);
            Vector256.MaxNative(
                Vector256.MaxNative(At(ref here, 0), At(ref here, first)),
                Vector256.MaxNative(At(ref here, second), At(ref here, farthest))).StoreUnsafe(ref to, (nuint)i);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> At(ref float here, int back) =>
        Vector256.LoadUnsafe(ref Unsafe.Subtract(ref here, back));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Sixteen(ref float here, int back) =>
        Vector512.LoadUnsafe(ref Unsafe.Subtract(ref here, back));

    // What a level looks back on.
    private int History(int level) => level + 1 < strides.Length ? 3 * strides[level] : window - strides[level];
}
