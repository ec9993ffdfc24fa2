using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Resampling;

/// <summary>
/// Four consecutive outputs of both channels from one window of input: eight dot products side by side, enough to hide
/// the latency of multiply-add, with each load of input used four times and each load of taps twice.
/// </summary>
internal static class GroupKernel
{
    /// <summary>
    /// Computes a group from the window that starts at <paramref name="left"/> and <paramref name="right"/>. Each sum
    /// runs in the same order whatever the block, so every output always has the same bits.
    /// </summary>
    public static void Compute(
        FilterRows rows,
        in GroupOffsets offsets,
        ref float left,
        ref float right,
        ref float leftOutput,
        ref float rightOutput)
    {
        ref float tails = ref MemoryMarshal.GetArrayDataReference(rows.Tails);
        ref float tail0 = ref Unsafe.Add(ref tails, offsets.Tails[0]);
        ref float tail1 = ref Unsafe.Add(ref tails, offsets.Tails[1]);
        ref float tail2 = ref Unsafe.Add(ref tails, offsets.Tails[2]);
        ref float tail3 = ref Unsafe.Add(ref tails, offsets.Tails[3]);
        Vector256<float> l0 = default, l1 = default, l2 = default, l3 = default;
        Vector256<float> r0 = default, r1 = default, r2 = default, r3 = default;
        nuint frames = (nuint)rows.Layout.WindowFrames;
        for (nuint i = 0; i < frames; i += RowLayout.TailLanes)
        {
            Vector256<float> inLeft = Vector256.LoadUnsafe(ref left, i);
            Vector256<float> inRight = Vector256.LoadUnsafe(ref right, i);
            Vector256<float> tap = Vector256.LoadUnsafe(ref tail0, i);
            l0 = Vector256.FusedMultiplyAdd(tap, inLeft, l0);
            r0 = Vector256.FusedMultiplyAdd(tap, inRight, r0);
            tap = Vector256.LoadUnsafe(ref tail1, i);
            l1 = Vector256.FusedMultiplyAdd(tap, inLeft, l1);
            r1 = Vector256.FusedMultiplyAdd(tap, inRight, r1);
            tap = Vector256.LoadUnsafe(ref tail2, i);
            l2 = Vector256.FusedMultiplyAdd(tap, inLeft, l2);
            r2 = Vector256.FusedMultiplyAdd(tap, inRight, r2);
            tap = Vector256.LoadUnsafe(ref tail3, i);
            l3 = Vector256.FusedMultiplyAdd(tap, inLeft, l3);
            r3 = Vector256.FusedMultiplyAdd(tap, inRight, r3);
        }

        ref double hearts = ref MemoryMarshal.GetArrayDataReference(rows.Hearts);
        ref double heart0 = ref Unsafe.Add(ref hearts, offsets.Hearts[0]);
        ref double heart1 = ref Unsafe.Add(ref hearts, offsets.Hearts[1]);
        ref double heart2 = ref Unsafe.Add(ref hearts, offsets.Hearts[2]);
        ref double heart3 = ref Unsafe.Add(ref hearts, offsets.Hearts[3]);
        Vector256<double> left0 = Fold(l0), left1 = Fold(l1), left2 = Fold(l2), left3 = Fold(l3);
        Vector256<double> right0 = Fold(r0), right1 = Fold(r1), right2 = Fold(r2), right3 = Fold(r3);
        left = ref Unsafe.Add(ref left, rows.Layout.HeartStart);
        right = ref Unsafe.Add(ref right, rows.Layout.HeartStart);
        frames = (nuint)rows.Layout.HeartFrames;
        for (nuint i = 0; i < frames; i += RowLayout.HeartLanes)
        {
            Vector256<double> inLeft = Widen(Vector128.LoadUnsafe(ref left, i));
            Vector256<double> inRight = Widen(Vector128.LoadUnsafe(ref right, i));
            Vector256<double> tap = Vector256.LoadUnsafe(ref heart0, i);
            left0 = Vector256.FusedMultiplyAdd(tap, inLeft, left0);
            right0 = Vector256.FusedMultiplyAdd(tap, inRight, right0);
            tap = Vector256.LoadUnsafe(ref heart1, i);
            left1 = Vector256.FusedMultiplyAdd(tap, inLeft, left1);
            right1 = Vector256.FusedMultiplyAdd(tap, inRight, right1);
            tap = Vector256.LoadUnsafe(ref heart2, i);
            left2 = Vector256.FusedMultiplyAdd(tap, inLeft, left2);
            right2 = Vector256.FusedMultiplyAdd(tap, inRight, right2);
            tap = Vector256.LoadUnsafe(ref heart3, i);
            left3 = Vector256.FusedMultiplyAdd(tap, inLeft, left3);
            right3 = Vector256.FusedMultiplyAdd(tap, inRight, right3);
        }

        Vector128.Create(Total(left0), Total(left1), Total(left2), Total(left3)).StoreUnsafe(ref leftOutput);
        Vector128.Create(Total(right0), Total(right1), Total(right2), Total(right3)).StoreUnsafe(ref rightOutput);
    }

    private static Vector256<double> Widen(Vector128<float> value) => Vector256.WidenLower(value.ToVector256Unsafe());

    private static Vector256<double> Fold(Vector256<float> sums) => Widen(sums.GetLower()) + Widen(sums.GetUpper());

    private static float Total(Vector256<double> lanes)
    {
        Vector128<double> halves = lanes.GetLower() + lanes.GetUpper();
        return (float)(halves[0] + halves[1]);
    }
}
