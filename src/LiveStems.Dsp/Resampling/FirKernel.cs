using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Resampling;

/// <summary>Direct convolution whose every output is the same sum in the same order, wherever it lies in a block.</summary>
internal static class FirKernel
{
    private const int Lanes = 8;

    /// <summary>Elements that input and output need beyond the last one that counts.</summary>
    public const int Padding = 4 * Lanes;

    /// <summary>
    /// output[i] = Σ taps[j] · input[i + j] for i below <paramref name="frames"/>. Input holds frames + taps − 1 samples,
    /// output frames; both have <see cref="Padding"/> more, of which the output's are overwritten.
    /// </summary>
    public static void Run(float[] taps, Span<float> input, Span<float> output, int frames)
    {
        ref float tap = ref MemoryMarshal.GetArrayDataReference(taps);
        ref float x = ref MemoryMarshal.GetReference(input);
        ref float y = ref MemoryMarshal.GetReference(output);
        nuint length = (nuint)taps.Length;
        nuint end = (nuint)frames;
        for (nuint i = 0; i < end; i += 4 * Lanes)
        {
            Vector256<float> a = Vector256<float>.Zero;
            Vector256<float> b = Vector256<float>.Zero;
            Vector256<float> c = Vector256<float>.Zero;
            Vector256<float> d = Vector256<float>.Zero;
            for (nuint j = 0; j < length; j++)
            {
                Vector256<float> weight = Vector256.Create(Unsafe.Add(ref tap, j));
                a = Vector256.FusedMultiplyAdd(weight, Vector256.LoadUnsafe(ref x, i + j), a);
                b = Vector256.FusedMultiplyAdd(weight, Vector256.LoadUnsafe(ref x, i + j + Lanes), b);
                c = Vector256.FusedMultiplyAdd(weight, Vector256.LoadUnsafe(ref x, i + j + 2 * Lanes), c);
                d = Vector256.FusedMultiplyAdd(weight, Vector256.LoadUnsafe(ref x, i + j + 3 * Lanes), d);
            }

            a.StoreUnsafe(ref y, i);
            b.StoreUnsafe(ref y, i + Lanes);
            c.StoreUnsafe(ref y, i + 2 * Lanes);
            d.StoreUnsafe(ref y, i + 3 * Lanes);
        }
    }
}
