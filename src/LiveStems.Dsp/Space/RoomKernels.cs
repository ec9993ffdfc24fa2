using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Space;

/// <summary>The parts of a room without memory, eight frames at once; all spans are whole numbers of vectors of eight.</summary>
internal static class RoomKernels
{
    /// <summary>Left and right to middle and side, (L + R)/2 and (L − R)/2, in place.</summary>
    public static void ToMidSide(Span<float> leftToMiddle, Span<float> rightToSide)
    {
        ref float l = ref MemoryMarshal.GetReference(leftToMiddle);
        ref float r = ref MemoryMarshal.GetReference(rightToSide);
        for (nuint i = 0; i < (nuint)leftToMiddle.Length; i += (nuint)Vector256<float>.Count)
        {
            Vector256<float> a = Vector256.LoadUnsafe(ref l, i);
            Vector256<float> b = Vector256.LoadUnsafe(ref r, i);
            ((a + b) * 0.5f).StoreUnsafe(ref l, i);
            ((a - b) * 0.5f).StoreUnsafe(ref r, i);
        }
    }

    /// <summary>What the side's network is fed with, in place of the side.</summary>
    public static void FeedSide(ReadOnlySpan<float> middle, Span<float> side, in RoomGains gains, int position)
    {
        ref float m = ref MemoryMarshal.GetReference(middle);
        ref float s = ref MemoryMarshal.GetReference(side);
        for (int i = 0; i < side.Length; i += Vector256<float>.Count)
        {
            Vector256<float> own = Vector256.LoadUnsafe(ref s, (nuint)i) * gains.SideIn.At(position + i);
            Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(ref m, (nuint)i), gains.MiddleIn.At(position + i), own).StoreUnsafe(ref s, (nuint)i);
        }
    }

    /// <summary>Adds early to late: middle = late + early, side = late + early + crossed, each with its gain, in place of the late ones.</summary>
    public static void AddEarly(
        Span<float> middle, Span<float> side, ReadOnlySpan<float> earlyMiddle, ReadOnlySpan<float> earlySide, ReadOnlySpan<float> crossed, in RoomGains gains, int position)
    {
        ref float m = ref MemoryMarshal.GetReference(middle);
        ref float s = ref MemoryMarshal.GetReference(side);
        ref float em = ref MemoryMarshal.GetReference(earlyMiddle);
        ref float es = ref MemoryMarshal.GetReference(earlySide);
        ref float c = ref MemoryMarshal.GetReference(crossed);
        for (int i = 0; i < middle.Length; i += Vector256<float>.Count)
        {
            nuint at = (nuint)i;
            int place = position + i;
            Vector256<float> late = Vector256.LoadUnsafe(ref m, at) * gains.LateMiddle.At(place);
            Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(ref em, at), gains.EarlyMiddle.At(place), late).StoreUnsafe(ref m, at);
            late = Vector256.LoadUnsafe(ref s, at) * gains.LateSide.At(place);
            late = Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(ref es, at), gains.EarlySide.At(place), late);
            Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(ref c, at), gains.EarlyCrossed.At(place), late).StoreUnsafe(ref s, at);
        }
    }

    /// <summary>The sound with its room, in place of the sound.</summary>
    public static void Mix(Span<float> left, Span<float> right, ReadOnlySpan<float> middle, ReadOnlySpan<float> side, in RoomGains gains, int position)
    {
        ref float l = ref MemoryMarshal.GetReference(left);
        ref float r = ref MemoryMarshal.GetReference(right);
        ref float m = ref MemoryMarshal.GetReference(middle);
        ref float s = ref MemoryMarshal.GetReference(side);
        for (int i = 0; i < left.Length; i += Vector256<float>.Count)
        {
            nuint at = (nuint)i;
            Vector256<float> dry = gains.Dry.At(position + i);
            Vector256<float> a = Vector256.LoadUnsafe(ref m, at);
            Vector256<float> b = Vector256.LoadUnsafe(ref s, at);
            Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(ref l, at), dry, a + b).StoreUnsafe(ref l, at);
            Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(ref r, at), dry, a - b).StoreUnsafe(ref r, at);
        }
    }
}
