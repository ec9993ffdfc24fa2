using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Simd;

/// <summary>Largest magnitudes.</summary>
public static class Magnitude
{
    /// <summary>
    /// The largest magnitude among the samples, from <paramref name="atLeast"/> up; samples that are not numbers are
    /// passed over.
    /// </summary>
    /// <param name="samples">Any number of samples.</param>
    /// <param name="atLeast">What is known already, 0 or more.</param>
    public static float Largest(ReadOnlySpan<float> samples, float atLeast = 0)
    {
        float largest = atLeast;
        ref float sample = ref MemoryMarshal.GetReference(samples);
        int n = 0;
        if (samples.Length >= Vector256<float>.Count)
        {
            Vector256<float> lanes = Vector256.Create(atLeast);
            for (; n <= samples.Length - Vector256<float>.Count; n += Vector256<float>.Count)
            {
                lanes = Larger(Vector256.Abs(Vector256.LoadUnsafe(ref sample, (nuint)n)), lanes);
            }

            largest = LargestLane(lanes);
        }

        for (; n < samples.Length; n++)
        {
            float magnitude = Math.Abs(Unsafe.Add(ref sample, n));
            largest = magnitude > largest ? magnitude : largest;
        }

        return largest;
    }

    /// <summary>The larger of two values in each lane, and the second where the first is not a number.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static Vector256<float> Larger(Vector256<float> candidate, Vector256<float> largest) =>
        Vector256.ConditionalSelect(Vector256.GreaterThan(candidate, largest), candidate, largest);

    /// <summary>The largest of eight numbers.</summary>
    internal static float LargestLane(Vector256<float> lanes)
    {
        float largest = lanes[0];
        for (int lane = 1; lane < Vector256<float>.Count; lane++)
        {
            largest = Math.Max(largest, lanes[lane]);
        }

        return largest;
    }
}
