using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>From true peaks to the reductions that bring them to a ceiling.</summary>
internal static class LimiterNeeds
{
    /// <summary>
    /// Replaces peaks, as magnitudes, by needed reductions in dB, 0 or above, and returns the highest peak. Linked
    /// channels share the deeper need: from 1 on both, below 1 by that part of the way.
    /// </summary>
    /// <param name="left">Peaks of the left channel; whole vectors.</param>
    /// <param name="right">Peaks of the right channel; whole vectors.</param>
    /// <param name="frames">Frames that count.</param>
    /// <param name="ceilingDb">Ceiling, dBTP, as it moves in the control interval.</param>
    /// <param name="lowestCeiling">The lowest of it over the frames, as a magnitude.</param>
    /// <param name="position">Place of the first frame in the control interval.</param>
    /// <param name="link">0 to 1.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static float FromPeaks(
        Span<float> left,
        Span<float> right,
        int frames,
        in Ramp ceilingDb,
        float lowestCeiling,
        int position,
        float link)
    {
        left.Slice(frames, Vector256<float>.Count).Clear();
        right.Slice(frames, Vector256<float>.Count).Clear();
        Vector256<float> share = Vector256.Create(link);
        Vector256<float> lowest = Vector256.Create(lowestCeiling);
        Vector256<float> highest = Vector256<float>.Zero;
        ref float l = ref MemoryMarshal.GetReference(left);
        ref float r = ref MemoryMarshal.GetReference(right);
        int i = 0;
        Vector512<float> wideShare = Vector512.Create(link);
        Vector512<float> wideLowest = Vector512.Create(lowestCeiling);
        Vector512<float> highestOfSixteen = Vector512<float>.Zero;
        for (; Vector512.IsHardwareAccelerated && i + Vector256<float>.Count < frames; i += Vector512<float>.Count)
        {
            Vector512<float> peakLeft = Vector512.LoadUnsafe(ref l, (nuint)i);
            Vector512<float> peakRight = Vector512.LoadUnsafe(ref r, (nuint)i);
            Vector512<float> peak = Vector512.MaxNative(peakLeft, peakRight);
            highestOfSixteen = Vector512.MaxNative(highestOfSixteen, peak);
            Vector512<float> needLeft = Vector512<float>.Zero;
            Vector512<float> needRight = Vector512<float>.Zero;
            if (Vector512.GreaterThanAny(peak, wideLowest))
            {
                // Which frames share a vector depends on where blocks begin, so each lane must decide alone.
                Vector512<float> ceiling = ceilingDb.SixteenAt(position + i);
                Vector512<float> deeper = Need(peak, ceiling, wideLowest);
                needLeft = needRight = deeper;
                if (link < 1)
                {
                    needLeft = Need(peakLeft, ceiling, wideLowest);
                    needRight = Need(peakRight, ceiling, wideLowest);
                    needLeft = Vector512.FusedMultiplyAdd(wideShare, deeper - needLeft, needLeft);
                    needRight = Vector512.FusedMultiplyAdd(wideShare, deeper - needRight, needRight);
                }
            }

            needLeft.StoreUnsafe(ref l, (nuint)i);
            needRight.StoreUnsafe(ref r, (nuint)i);
        }

        highest = Vector256.MaxNative(highestOfSixteen.GetLower(), highestOfSixteen.GetUpper());
        for (; i < frames; i += Vector256<float>.Count)
        {
            Vector256<float> peakLeft = Vector256.LoadUnsafe(ref l, (nuint)i);
            Vector256<float> peakRight = Vector256.LoadUnsafe(ref r, (nuint)i);
            Vector256<float> peak = Vector256.MaxNative(peakLeft, peakRight);
            highest = Vector256.MaxNative(highest, peak);
            Vector256<float> needLeft = Vector256<float>.Zero;
            Vector256<float> needRight = Vector256<float>.Zero;
            if (Vector256.GreaterThanAny(peak, lowest))
            {
                Vector256<float> ceiling = ceilingDb.At(position + i);
                Vector256<float> deeper = Need(peak, ceiling, lowest);
                needLeft = needRight = deeper;
                if (link < 1)
                {
                    needLeft = Need(peakLeft, ceiling, lowest);
                    needRight = Need(peakRight, ceiling, lowest);
                    needLeft = Vector256.FusedMultiplyAdd(share, deeper - needLeft, needLeft);
                    needRight = Vector256.FusedMultiplyAdd(share, deeper - needRight, needRight);
                }
            }

            needLeft.StoreUnsafe(ref l, (nuint)i);
            needRight.StoreUnsafe(ref r, (nuint)i);
        }

        return Magnitude.LargestLane(highest);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Need(Vector256<float> peak, Vector256<float> ceilingDb, Vector256<float> lowest) =>
        Vector256.GreaterThan(peak, lowest)
        & Vector256.MaxNative(Vector256<float>.Zero, LevelDetector.MagnitudeDb(peak) - ceilingDb);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Need(Vector512<float> peak, Vector512<float> ceilingDb, Vector512<float> lowest) =>
        Vector512.GreaterThan(peak, lowest)
        & Vector512.MaxNative(Vector512<float>.Zero, LevelDetector.MagnitudeDb(peak) - ceilingDb);
}
