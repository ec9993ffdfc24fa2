using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>From reductions in dB to gains, and gains onto samples, eight at once.</summary>
public static class GainStage
{
    private const float OctavesPerDb = 0.166096405f;

    /// <summary>
    /// Replaces reductions in dB by gains, make-up included, and returns the deepest of the first
    /// <paramref name="frames"/>. The span is a whole number of vectors of eight; what lies behind the frames is lost.
    /// </summary>
    public static float FromReduction(Span<float> reductionDb, int frames, in Ramp makeUpDb, int position)
    {
        reductionDb[frames..].Clear();
        Vector256<float> deepest = Vector256<float>.Zero;
        Vector256<float> octaves = Vector256.Create(OctavesPerDb);
        ref float db = ref MemoryMarshal.GetReference(reductionDb);
        for (int i = 0; i < reductionDb.Length; i += Vector256<float>.Count)
        {
            Vector256<float> reduction = Vector256.LoadUnsafe(ref db, (nuint)i);
            deepest = Vector256.MaxNative(deepest, reduction);
            VectorExp2.Of((makeUpDb.At(position + i) - reduction) * octaves).StoreUnsafe(ref db, (nuint)i);
        }

        float result = 0;
        for (int lane = 0; lane < Vector256<float>.Count; lane++)
        {
            result = Math.Max(result, deepest[lane]);
        }

        return result;
    }

    /// <summary>Multiplies samples by gains; samples that are not finite become silence.</summary>
    public static void Apply(Span<float> samples, ReadOnlySpan<float> gains)
    {
        ref float x = ref MemoryMarshal.GetReference(samples);
        ref float g = ref MemoryMarshal.GetReference(gains[..samples.Length]);
        Vector256<float> largest = Vector256.Create(float.MaxValue);
        int i = 0;
        for (; i <= samples.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            Vector256<float> sample = Vector256.LoadUnsafe(ref x, (nuint)i);
            sample &= Vector256.LessThanOrEqual(Vector256.Abs(sample), largest);
            (sample * Vector256.LoadUnsafe(ref g, (nuint)i)).StoreUnsafe(ref x, (nuint)i);
        }

        for (; i < samples.Length; i++)
        {
            samples[i] = float.IsFinite(samples[i]) ? samples[i] * gains[i] : 0;
        }
    }
}
