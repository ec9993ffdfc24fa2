using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Simd;

/// <summary>
/// Element-wise work on one channel. Every element goes through the same operations wherever it lies in the span, so
/// results do not depend on how a signal is cut into blocks.
/// </summary>
public static class Planar
{
    /// <summary>destination = source · gain; the spans have one length and may be the same.</summary>
    public static void Scale(ReadOnlySpan<float> source, float gain, Span<float> destination)
    {
        ref float from = ref MemoryMarshal.GetReference(source);
        ref float to = ref MemoryMarshal.GetReference(destination);
        Vector256<float> gains = Vector256.Create(gain);
        int i = 0;
        for (; i <= source.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            (Vector256.LoadUnsafe(ref from, (nuint)i) * gains).StoreUnsafe(ref to, (nuint)i);
        }

        for (; i < source.Length; i++)
        {
            Unsafe.Add(ref to, i) = Unsafe.Add(ref from, i) * gain;
        }
    }

    /// <summary>destination += source · gain, fused; the spans have one length.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void AddScaled(ReadOnlySpan<float> source, float gain, Span<float> destination)
    {
        ref float from = ref MemoryMarshal.GetReference(source);
        ref float to = ref MemoryMarshal.GetReference(destination);
        Vector256<float> gains = Vector256.Create(gain);
        int i = 0;
        if (Vector512.IsHardwareAccelerated)
        {
            Vector512<float> wideGains = Vector512.Create(gain);
            for (; i <= source.Length - Vector512<float>.Count; i += Vector512<float>.Count)
            {
                Vector512.FusedMultiplyAdd(
                    Vector512.LoadUnsafe(ref from, (nuint)i), wideGains, Vector512.LoadUnsafe(ref to, (nuint)i)).StoreUnsafe(ref to, (nuint)i);
            }
        }

        for (; i <= source.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            Vector256.FusedMultiplyAdd(
                Vector256.LoadUnsafe(ref from, (nuint)i), gains, Vector256.LoadUnsafe(ref to, (nuint)i)).StoreUnsafe(ref to, (nuint)i);
        }

        for (; i < source.Length; i++)
        {
            Unsafe.Add(ref to, i) = MathF.FusedMultiplyAdd(Unsafe.Add(ref from, i), gain, Unsafe.Add(ref to, i));
        }
    }

    /// <summary>destination += (one − other); the spans have one length.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void AddDifference(ReadOnlySpan<float> one, ReadOnlySpan<float> other, Span<float> destination)
    {
        ref float plus = ref MemoryMarshal.GetReference(one);
        ref float minus = ref MemoryMarshal.GetReference(other[..one.Length]);
        ref float to = ref MemoryMarshal.GetReference(destination[..one.Length]);
        int i = 0;
        for (; i <= one.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            Vector256<float> difference = Vector256.LoadUnsafe(ref plus, (nuint)i) - Vector256.LoadUnsafe(ref minus, (nuint)i);
            (Vector256.LoadUnsafe(ref to, (nuint)i) + difference).StoreUnsafe(ref to, (nuint)i);
        }

        for (; i < one.Length; i++)
        {
            destination[i] += one[i] - other[i];
        }
    }

    /// <summary>
    /// Sets everything below 1e-15 (−300 dB) to zero, so that no later arithmetic meets subnormal numbers, and returns
    /// whether every sample is finite.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static bool FlushTinyAndCheckFinite(Span<float> samples)
    {
        const float Tiny = 1e-15f;
        ref float at = ref MemoryMarshal.GetReference(samples);
        Vector256<float> tiny = Vector256.Create(Tiny);
        Vector256<float> largest = Vector256.Create(float.MaxValue);
        Vector256<float> finite = Vector256<float>.AllBitsSet;
        int i = 0;
        if (Vector512.IsHardwareAccelerated)
        {
            Vector512<float> allFinite = Vector512<float>.AllBitsSet;
            for (; i <= samples.Length - Vector512<float>.Count; i += Vector512<float>.Count)
            {
                Vector512<float> sixteen = Vector512.LoadUnsafe(ref at, (nuint)i);
                Vector512<float> sizes = Vector512.Abs(sixteen);
                allFinite &= Vector512.LessThanOrEqual(sizes, Vector512.Create(float.MaxValue));
                (sixteen & Vector512.GreaterThanOrEqual(sizes, Vector512.Create(Tiny))).StoreUnsafe(ref at, (nuint)i);
            }

            finite = allFinite.GetLower() & allFinite.GetUpper();
        }

        for (; i <= samples.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            Vector256<float> value = Vector256.LoadUnsafe(ref at, (nuint)i);
            Vector256<float> size = Vector256.Abs(value);
            finite &= Vector256.LessThanOrEqual(size, largest);
            (value & Vector256.GreaterThanOrEqual(size, tiny)).StoreUnsafe(ref at, (nuint)i);
        }

        bool all = Vector256.EqualsAll(finite.AsInt32(), Vector256<int>.AllBitsSet);
        for (; i < samples.Length; i++)
        {
            ref float value = ref Unsafe.Add(ref at, i);
            all &= float.IsFinite(value);
            value = MathF.Abs(value) >= Tiny ? value : 0;
        }

        return all;
    }

    /// <summary>The sum of all squares, in floats sixteen lanes apart: right within a hundred-thousandth.</summary>
    public static double Energy(ReadOnlySpan<float> samples)
    {
        ref float at = ref MemoryMarshal.GetReference(samples);
        Vector512<float> sums = Vector512<float>.Zero;
        int i = 0;
        for (; i <= samples.Length - Vector512<float>.Count; i += Vector512<float>.Count)
        {
            Vector512<float> sixteen = Vector512.LoadUnsafe(ref at, (nuint)i);
            sums = Vector512.FusedMultiplyAdd(sixteen, sixteen, sums);
        }

        double sum = Vector512.Sum(sums);
        for (; i < samples.Length; i++)
        {
            sum += (double)samples[i] * samples[i];
        }

        return sum;
    }

    /// <summary>The largest absolute value, 0 for an empty span; NaN is ignored.</summary>
    public static float Peak(ReadOnlySpan<float> samples)
    {
        ref float at = ref MemoryMarshal.GetReference(samples);
        Vector256<float> peaks = Vector256<float>.Zero;
        int i = 0;
        for (; i <= samples.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            peaks = Vector256.MaxNumber(peaks, Vector256.Abs(Vector256.LoadUnsafe(ref at, (nuint)i)));
        }

        float peak = 0;
        for (int lane = 0; lane < Vector256<float>.Count; lane++)
        {
            peak = MathF.Max(peak, peaks[lane]);
        }

        for (; i < samples.Length; i++)
        {
            float size = MathF.Abs(samples[i]);
            peak = size > peak ? size : peak;
        }

        return peak;
    }
}
