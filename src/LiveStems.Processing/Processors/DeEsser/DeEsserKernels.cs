using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Dynamics;

namespace LiveStems.Processing.Processors.DeEsser;

/// <summary>The part of the de-esser without memory, eight frames at once.</summary>
internal static class DeEsserKernels
{
    /// <summary>
    /// Replaces ratios of powers by the reduction in dB that the curve asks for, held to a range. The span is a whole number
    /// of vectors of eight.
    /// </summary>
    public static void ToReduction(Span<float> ratio, in GainComputer curve, float rangeDb)
    {
        GainComputer.Vectorised computer = curve.Vectorise();
        Vector256<float> range = Vector256.Create(rangeDb);
        Vector256<float> offset = Vector256.Create(LevelDetector.SinePowerOffsetDb);
        ref float r = ref MemoryMarshal.GetReference(ratio);
        for (nuint i = 0; i < (nuint)ratio.Length; i += (nuint)Vector256<float>.Count)
        {
            Vector256<float> levelDb = LevelDetector.PowerDb(Vector256.LoadUnsafe(ref r, i)) - offset;
            Vector256.MinNative(computer.ReductionDb(levelDb), range).StoreUnsafe(ref r, i);
        }
    }
}
