using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Space;

/// <summary>Left and right as mid, half their sum, and side, half their difference. All spans have one length.</summary>
public static class MidSide
{
    /// <summary>Writes mid and side.</summary>
    public static void Split(ReadOnlySpan<float> left, ReadOnlySpan<float> right, Span<float> middle, Span<float> side)
    {
        int i = 0;
        ref float l = ref MemoryMarshal.GetReference(left);
        ref float r = ref MemoryMarshal.GetReference(right);
        ref float m = ref MemoryMarshal.GetReference(middle);
        ref float s = ref MemoryMarshal.GetReference(side);
        for (; i <= left.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            Vector256<float> a = Vector256.LoadUnsafe(ref l, (nuint)i) * 0.5f;
            Vector256<float> b = Vector256.LoadUnsafe(ref r, (nuint)i) * 0.5f;
            (a + b).StoreUnsafe(ref m, (nuint)i);
            (a - b).StoreUnsafe(ref s, (nuint)i);
        }

        for (; i < left.Length; i++)
        {
            (float a, float b) = (left[i] * 0.5f, right[i] * 0.5f);
            (middle[i], side[i]) = (a + b, a - b);
        }
    }

    /// <summary>
    /// Gives left and right another side: what it differs from theirs is added to left and taken from right. The same side
    /// leaves every bit alone.
    /// </summary>
    public static void ReplaceSide(Span<float> left, Span<float> right, ReadOnlySpan<float> side)
    {
        int i = 0;
        ref float l = ref MemoryMarshal.GetReference(left);
        ref float r = ref MemoryMarshal.GetReference(right);
        ref float s = ref MemoryMarshal.GetReference(side);
        for (; i <= left.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            Vector256<float> a = Vector256.LoadUnsafe(ref l, (nuint)i);
            Vector256<float> b = Vector256.LoadUnsafe(ref r, (nuint)i);
            Vector256<float> change = Vector256.LoadUnsafe(ref s, (nuint)i) - (a * 0.5f - b * 0.5f);
            (a + change).StoreUnsafe(ref l, (nuint)i);
            (b - change).StoreUnsafe(ref r, (nuint)i);
        }

        for (; i < left.Length; i++)
        {
            float change = side[i] - (left[i] * 0.5f - right[i] * 0.5f);
            (left[i], right[i]) = (left[i] + change, right[i] - change);
        }
    }
}
