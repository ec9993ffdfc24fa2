using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>From reductions in dB to gains, and gains onto samples, eight at once.</summary>
public static class GainStage
{
    private const float OctavesPerDb = 0.166096405f;

    /// <summary>
    /// Writes the gains of reductions in dB, make-up included, and returns the deepest reduction. Whole vectors of eight
    /// are read and written; what lies behind the frames does not count.
    /// </summary>
    /// <param name="reductionDb">Reductions, 0 or above.</param>
    /// <param name="makeUpDb">Gain to add, as it moves in the control interval.</param>
    /// <param name="position">Place of the first frame in the control interval.</param>
    /// <param name="gains">Where the gains go; may be the reductions.</param>
    /// <param name="frames">Frames that count.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static float FromReduction(Span<float> reductionDb, in Ramp makeUpDb, int position, Span<float> gains, int frames)
    {
        int padded = (frames + Vector256<float>.Count - 1) & -Vector256<float>.Count;
        reductionDb[frames..padded].Clear();
        Vector256<float> deepest = Vector256<float>.Zero;
        Vector256<float> octaves = Vector256.Create(OctavesPerDb);
        ref float db = ref MemoryMarshal.GetReference(reductionDb[..padded]);
        ref float gain = ref MemoryMarshal.GetReference(gains[..padded]);
        int i = 0;
        if (Vector512.IsHardwareAccelerated)
        {
            Vector512<float> deepestOfSixteen = Vector512<float>.Zero;
            for (; i <= padded - Vector512<float>.Count; i += Vector512<float>.Count)
            {
                Vector512<float> reduction = Vector512.LoadUnsafe(ref db, (nuint)i);
                deepestOfSixteen = Vector512.MaxNative(deepestOfSixteen, reduction);
                VectorExp2.Of((makeUpDb.SixteenAt(position + i) - reduction) * Vector512.Create(OctavesPerDb))
                    .StoreUnsafe(ref gain, (nuint)i);
            }

            deepest = Vector256.MaxNative(deepestOfSixteen.GetLower(), deepestOfSixteen.GetUpper());
        }

        for (; i < padded; i += Vector256<float>.Count)
        {
            Vector256<float> reduction = Vector256.LoadUnsafe(ref db, (nuint)i);
            deepest = Vector256.MaxNative(deepest, reduction);
            VectorExp2.Of((makeUpDb.At(position + i) - reduction) * octaves).StoreUnsafe(ref gain, (nuint)i);
        }

        return Magnitude.LargestLane(deepest);
    }

    /// <summary>Multiplies samples by gains; samples that are not finite become silence.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Apply(Span<float> samples, ReadOnlySpan<float> gains)
    {
        ref float x = ref MemoryMarshal.GetReference(samples);
        ref float g = ref MemoryMarshal.GetReference(gains[..samples.Length]);
        Vector256<float> largest = Vector256.Create(float.MaxValue);
        int i = 0;
        if (Vector512.IsHardwareAccelerated)
        {
            Vector512<float> largestOfSixteen = Vector512.Create(float.MaxValue);
            for (; i <= samples.Length - Vector512<float>.Count; i += Vector512<float>.Count)
            {
                Vector512<float> sixteen = Vector512.LoadUnsafe(ref x, (nuint)i);
                sixteen &= Vector512.LessThanOrEqual(Vector512.Abs(sixteen), largestOfSixteen);
                (sixteen * Vector512.LoadUnsafe(ref g, (nuint)i)).StoreUnsafe(ref x, (nuint)i);
            }
        }

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
