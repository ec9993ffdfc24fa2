using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Simd;

/// <summary>Sums of products, added up in double precision.</summary>
public static class Products
{
    /// <summary>Σ a[n]·b[n]; the spans have one length, and may be the same.</summary>
    public static double Sum(ReadOnlySpan<float> a, ReadOnlySpan<float> b)
    {
        ref float first = ref MemoryMarshal.GetReference(a);
        ref float second = ref MemoryMarshal.GetReference(b[..a.Length]);
        Vector256<double> low = Vector256<double>.Zero, high = Vector256<double>.Zero;
        int n = 0;
        for (; n <= a.Length - Vector256<float>.Count; n += Vector256<float>.Count)
        {
            (Vector256<double> aLow, Vector256<double> aHigh) = Vector256.Widen(Vector256.LoadUnsafe(ref first, (nuint)n));
            (Vector256<double> bLow, Vector256<double> bHigh) = Vector256.Widen(Vector256.LoadUnsafe(ref second, (nuint)n));
            low = Vector256.FusedMultiplyAdd(aLow, bLow, low);
            high = Vector256.FusedMultiplyAdd(aHigh, bHigh, high);
        }

        double sum = Vector256.Sum(low + high);
        for (; n < a.Length; n++)
        {
            sum += (double)a[n] * b[n];
        }

        return sum;
    }

    /// <summary>Σ a[n].</summary>
    public static double Sum(ReadOnlySpan<float> a)
    {
        ref float first = ref MemoryMarshal.GetReference(a);
        Vector256<double> low = Vector256<double>.Zero, high = Vector256<double>.Zero;
        int n = 0;
        for (; n <= a.Length - Vector256<float>.Count; n += Vector256<float>.Count)
        {
            (Vector256<double> aLow, Vector256<double> aHigh) = Vector256.Widen(Vector256.LoadUnsafe(ref first, (nuint)n));
            low += aLow;
            high += aHigh;
        }

        double sum = Vector256.Sum(low + high);
        for (; n < a.Length; n++)
        {
            sum += a[n];
        }

        return sum;
    }
}
