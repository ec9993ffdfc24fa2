using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Spectral;

/// <summary>The sum over all partitions of input spectrum times filter spectrum, the newest input first.</summary>
internal static class SpectralProduct
{
    /// <summary>
    /// Sets spectrum 0 of <paramref name="result"/>; <paramref name="newest"/> is the ring index of the newest spectrum
    /// in <paramref name="inputs"/>, older ones follow upwards, around the end.
    /// </summary>
    public static void Sum(SpectrumStore inputs, int newest, SpectrumStore filter, int partitions, SpectrumStore result)
    {
        nuint imaginary = (nuint)filter.PaddedBins;
        ref float output = ref result.Start(0);
        for (nuint bin = 0; bin < imaginary; bin += SpectrumStore.TileBins)
        {
            Vector256<float> rr0 = default, rr1 = default, ii0 = default, ii1 = default;
            Vector256<float> ri0 = default, ri1 = default, ir0 = default, ir1 = default;
            int ring = newest;
            for (int partition = 0; partition < partitions; partition++)
            {
                ref float x = ref Unsafe.Add(ref inputs.Start(ring), bin);
                ref float h = ref Unsafe.Add(ref filter.Start(partition), bin);
                Vector256<float> xr0 = Vector256.LoadUnsafe(ref x);
                Vector256<float> xr1 = Vector256.LoadUnsafe(ref x, 8);
                Vector256<float> xi0 = Vector256.LoadUnsafe(ref x, imaginary);
                Vector256<float> xi1 = Vector256.LoadUnsafe(ref x, imaginary + 8);
                Vector256<float> hr0 = Vector256.LoadUnsafe(ref h);
                Vector256<float> hr1 = Vector256.LoadUnsafe(ref h, 8);
                Vector256<float> hi0 = Vector256.LoadUnsafe(ref h, imaginary);
                Vector256<float> hi1 = Vector256.LoadUnsafe(ref h, imaginary + 8);
                rr0 = Vector256.FusedMultiplyAdd(xr0, hr0, rr0);
                rr1 = Vector256.FusedMultiplyAdd(xr1, hr1, rr1);
                ii0 = Vector256.FusedMultiplyAdd(xi0, hi0, ii0);
                ii1 = Vector256.FusedMultiplyAdd(xi1, hi1, ii1);
                ri0 = Vector256.FusedMultiplyAdd(xr0, hi0, ri0);
                ri1 = Vector256.FusedMultiplyAdd(xr1, hi1, ri1);
                ir0 = Vector256.FusedMultiplyAdd(xi0, hr0, ir0);
                ir1 = Vector256.FusedMultiplyAdd(xi1, hr1, ir1);
                ring = ring + 1 == inputs.Count ? 0 : ring + 1;
            }

            (rr0 - ii0).StoreUnsafe(ref output, bin);
            (rr1 - ii1).StoreUnsafe(ref output, bin + 8);
            (ri0 + ir0).StoreUnsafe(ref output, imaginary + bin);
            (ri1 + ir1).StoreUnsafe(ref output, imaginary + bin + 8);
        }
    }
}
