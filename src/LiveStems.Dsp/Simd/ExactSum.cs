using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Simd;

/// <summary>
/// Sums of sounds that come out the same whatever the order, and from which a sound can be taken away again without a trace.
/// </summary>
/// <remarks>
/// Every sample is rounded to a multiple of 2^-40 (−240 dBFS) by adding and taking away 1.5 · 2^12, at which doubles lie that
/// far apart (J.-M. Muller and others, Handbook of Floating-Point Arithmetic, 2nd ed. 2018, section 4.3). Below 2^12 a double
/// holds every multiple exactly, so that adding never rounds again. Below 2^8 (48 dBFS) such a sum is exactly that of its
/// nearest single and another single.
/// </remarks>
public static class ExactSum
{
    private const double Grid = 1.5 * 4096;

    /// <summary>sum += sound.</summary>
    /// <param name="sound">Samples, full scale ±1.</param>
    /// <param name="sum">As many numbers.</param>
    public static void Add(ReadOnlySpan<float> sound, Span<double> sum) => Accumulate(sound, 1, sum);

    /// <summary>sum −= sound.</summary>
    /// <inheritdoc cref="Add"/>
    public static void Subtract(ReadOnlySpan<float> sound, Span<double> sum) => Accumulate(sound, -1, sum);

    // The factor is 1 or −1, so that multiplying by it is exact.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Accumulate(ReadOnlySpan<float> sound, double factor, Span<double> sum)
    {
        ref float from = ref MemoryMarshal.GetReference(sound);
        ref double to = ref MemoryMarshal.GetReference(sum[..sound.Length]);
        Vector256<double> grid = Vector256.Create(Grid), factors = Vector256.Create(factor);
        int i = 0;
        for (; i <= sound.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            (Vector256<double> low, Vector256<double> high) = Vector256.Widen(Vector256.LoadUnsafe(ref from, (nuint)i));
            ref double there = ref Unsafe.Add(ref to, i);
            (Vector256.LoadUnsafe(ref there) + (factors * ((low + grid) - grid))).StoreUnsafe(ref there);
            (Vector256.LoadUnsafe(ref there, (nuint)Vector256<double>.Count) + (factors * ((high + grid) - grid))).StoreUnsafe(ref there, (nuint)Vector256<double>.Count);
        }

        for (; i < sound.Length; i++)
        {
            Unsafe.Add(ref to, i) += factor * ((Unsafe.Add(ref from, i) + Grid) - Grid);
        }
    }

    /// <summary>The nearest singles of a sum.</summary>
    /// <param name="sum">The sum.</param>
    /// <param name="nearest">As many samples.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Round(ReadOnlySpan<double> sum, Span<float> nearest)
    {
        ref double from = ref MemoryMarshal.GetReference(sum);
        ref float to = ref MemoryMarshal.GetReference(nearest[..sum.Length]);
        int i = 0;
        for (; i <= sum.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            Vector256<double> low = Vector256.LoadUnsafe(ref from, (nuint)i);
            Vector256<double> high = Vector256.LoadUnsafe(ref from, (nuint)(i + Vector256<double>.Count));
            Vector256.Narrow(low, high).StoreUnsafe(ref to, (nuint)i);
        }

        for (; i < sum.Length; i++)
        {
            Unsafe.Add(ref to, i) = (float)Unsafe.Add(ref from, i);
        }
    }

    /// <summary>What the nearest singles leave of a sum.</summary>
    /// <param name="sum">The sum.</param>
    /// <param name="rest">As many samples: sum − nearest single, below 2^8 exactly.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Rest(ReadOnlySpan<double> sum, Span<float> rest)
    {
        ref double from = ref MemoryMarshal.GetReference(sum);
        ref float to = ref MemoryMarshal.GetReference(rest[..sum.Length]);
        int i = 0;
        for (; i <= sum.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            Vector256<double> low = Vector256.LoadUnsafe(ref from, (nuint)i);
            Vector256<double> high = Vector256.LoadUnsafe(ref from, (nuint)(i + Vector256<double>.Count));
            (Vector256<double> nearLow, Vector256<double> nearHigh) = Vector256.Widen(Vector256.Narrow(low, high));
            Vector256.Narrow(low - nearLow, high - nearHigh).StoreUnsafe(ref to, (nuint)i);
        }

        for (; i < sum.Length; i++)
        {
            double all = Unsafe.Add(ref from, i);
            Unsafe.Add(ref to, i) = (float)(all - (float)all);
        }
    }
}
