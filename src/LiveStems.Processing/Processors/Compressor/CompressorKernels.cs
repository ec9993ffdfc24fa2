using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Processing.Processors.Compressor;

/// <summary>
/// The parts of the compressor without memory, eight frames at once. Scratch spans are padded to whole vectors, so the
/// last frames of a block go through the same operations as all others.
/// </summary>
internal static class CompressorKernels
{
    /// <summary>
    /// Replaces key samples, or mean powers, by the reduction in dB that the curve asks for. At a link of 1 both
    /// channels get that of the louder one.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void ToReduction(Span<float> left, Span<float> right, bool isPower, in GainComputer curve, float link)
    {
        GainComputer.Vectorised computer = curve.Vectorise();
        Vector256<float> share = Vector256.Create(link);
        ref float l = ref MemoryMarshal.GetReference(left);
        ref float r = ref MemoryMarshal.GetReference(right[..left.Length]);
        for (nuint i = 0; i < (nuint)left.Length; i += (nuint)Vector256<float>.Count)
        {
            Vector256<float> a = Vector256.Abs(Vector256.LoadUnsafe(ref l, i));
            Vector256<float> b = Vector256.Abs(Vector256.LoadUnsafe(ref r, i));
            if (link >= 1)
            {
                a = b = Reduction(Vector256.ConditionalSelect(Vector256.GreaterThan(b, a), b, a), isPower, computer);
            }
            else
            {
                a = Reduction(a, isPower, computer);
                b = Reduction(b, isPower, computer);
                Vector256<float> deeper = Vector256.MaxNative(a, b);
                a = Vector256.FusedMultiplyAdd(share, deeper - a, a);
                b = Vector256.FusedMultiplyAdd(share, deeper - b, b);
            }

            a.StoreUnsafe(ref l, i);
            b.StoreUnsafe(ref r, i);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Reduction(Vector256<float> level, bool isPower, in GainComputer.Vectorised computer) =>
        computer.ReductionDb(isPower ? LevelDetector.PowerDb(level) : LevelDetector.MagnitudeDb(level));
}
