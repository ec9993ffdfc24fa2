using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Dsp.Dynamics;

/// <summary>The points half-way between samples, by a windowed sinc (Kaiser) of so many taps a side.</summary>
/// <remarks>
/// <para>
/// The filter is 6 dB down at half the sample rate; its window decides how soon below that it is flat.
/// </para>
/// <para>
/// Taps whose distances differ by eight meet the same vectors of eight samples, so they are taken in that order: first
/// all distances of remainder 0, then of remainder 1, and so on. Each step then needs two new vectors for eight
/// multiplications instead of eight. Single vectors take the same products in the same order.
/// </para>
/// </remarks>
internal sealed class HalfWayFilter
{
    private const int Lanes = 8;

    // Tap of distance remainder + 8 · q at [remainder · perRemainder + q].
    private readonly float[] taps;
    private readonly int perRemainder;

    /// <param name="halfLength">Taps a side, a multiple of eight.</param>
    /// <param name="kaiserBeta">Shape of the window.</param>
    public HalfWayFilter(int halfLength, double kaiserBeta)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(halfLength % Lanes, 0);
        HalfLength = halfLength;
        perRemainder = halfLength / Lanes;
        double[] plain = new double[halfLength];
        for (int j = 0; j < halfLength; j++)
        {
            double time = j + 0.5;
            plain[j] = Math.Sin(Math.PI * time) / (Math.PI * time) * KaiserWindow.Value(time / halfLength, kaiserBeta);
        }

        // They sum to ½ a side, so a constant stays what it is.
        double total = 2 * plain.Sum();
        taps = new float[halfLength];
        for (int j = 0; j < halfLength; j++)
        {
            taps[j % Lanes * perRemainder + j / Lanes] = (float)(plain[j] / total);
        }
    }

    /// <summary>Taps a side.</summary>
    public int HalfLength { get; }

    /// <summary>
    /// Writes the points that follow a run of samples. Whole vectors are read and written: up to seven more points come
    /// out than asked for, and <see cref="HalfLength"/> samples either side are looked at.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Process(ref float samples, ref float points, int count)
    {
        int i = 0;
        for (; Vector512.IsHardwareAccelerated && i + 7 * Lanes < count && perRemainder % 2 == 0; i += 8 * Lanes)
        {
            EightVectors(ref Unsafe.Add(ref samples, i), ref Unsafe.Add(ref points, i));
        }

        for (; i + 3 * Lanes < count; i += 4 * Lanes)
        {
            FourVectors(ref Unsafe.Add(ref samples, i), ref Unsafe.Add(ref points, i));
        }

        for (; i < count; i += Lanes)
        {
            OneVector(ref Unsafe.Add(ref samples, i), ref Unsafe.Add(ref points, i));
        }
    }

    // As FourVectors with vectors of sixteen: taps eight apart then take turns with two sets of samples.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void EightVectors(ref float x, ref float y)
    {
        Vector512<float> early0 = Vector512<float>.Zero, early1 = early0, early2 = early0, early3 = early0;
        Vector512<float> late0 = early0, late1 = early0, late2 = early0, late3 = early0;
        ref float tap = ref taps[0];
        for (int remainder = 0; remainder < Lanes; remainder++)
        {
            ref float before = ref Unsafe.Subtract(ref x, remainder);
            ref float after = ref Unsafe.Add(ref x, 1 + remainder);
            Vector512<float> before1 = At(ref before, 16), before2 = At(ref before, 32), before3 = At(ref before, 48);
            Vector512<float> after0 = At(ref after, 0), after1 = At(ref after, 16), after2 = At(ref after, 32);
            Vector512<float> oddBefore1 = At(ref before, 8), oddBefore2 = At(ref before, 24), oddBefore3 = At(ref before, 40);
            Vector512<float> oddAfter0 = At(ref after, 8), oddAfter1 = At(ref after, 24), oddAfter2 = At(ref after, 40);
            for (int q = 0; q < perRemainder; q += 2)
            {
                Vector512<float> weight = Vector512.Create(tap);
                Vector512<float> before0 = At(ref before, 0);
                Vector512<float> after3 = At(ref after, 48);
                early0 = Vector512.FusedMultiplyAdd(weight, before0, early0);
                early1 = Vector512.FusedMultiplyAdd(weight, before1, early1);
                early2 = Vector512.FusedMultiplyAdd(weight, before2, early2);
                early3 = Vector512.FusedMultiplyAdd(weight, before3, early3);
                late0 = Vector512.FusedMultiplyAdd(weight, after0, late0);
                late1 = Vector512.FusedMultiplyAdd(weight, after1, late1);
                late2 = Vector512.FusedMultiplyAdd(weight, after2, late2);
                late3 = Vector512.FusedMultiplyAdd(weight, after3, late3);
                (before3, before2, before1) = (before2, before1, before0);
                (after0, after1, after2) = (after1, after2, after3);

                weight = Vector512.Create(Unsafe.Add(ref tap, 1));
                before0 = At(ref before, -8);
                after3 = At(ref after, 56);
                early0 = Vector512.FusedMultiplyAdd(weight, before0, early0);
                early1 = Vector512.FusedMultiplyAdd(weight, oddBefore1, early1);
                early2 = Vector512.FusedMultiplyAdd(weight, oddBefore2, early2);
                early3 = Vector512.FusedMultiplyAdd(weight, oddBefore3, early3);
                late0 = Vector512.FusedMultiplyAdd(weight, oddAfter0, late0);
                late1 = Vector512.FusedMultiplyAdd(weight, oddAfter1, late1);
                late2 = Vector512.FusedMultiplyAdd(weight, oddAfter2, late2);
                late3 = Vector512.FusedMultiplyAdd(weight, after3, late3);
                (oddBefore3, oddBefore2, oddBefore1) = (oddBefore2, oddBefore1, before0);
                (oddAfter0, oddAfter1, oddAfter2) = (oddAfter1, oddAfter2, after3);

                before = ref Unsafe.Subtract(ref before, 2 * Lanes);
                after = ref Unsafe.Add(ref after, 2 * Lanes);
                tap = ref Unsafe.Add(ref tap, 2);
            }
        }

        (early0 + late0).StoreUnsafe(ref y);
        (early1 + late1).StoreUnsafe(ref y, 16);
        (early2 + late2).StoreUnsafe(ref y, 32);
        (early3 + late3).StoreUnsafe(ref y, 48);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> At(ref float samples, int offset) =>
        Vector512.LoadUnsafe(ref Unsafe.Add(ref samples, offset));

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void FourVectors(ref float x, ref float y)
    {
        Vector256<float> early0 = Vector256<float>.Zero, early1 = early0, early2 = early0, early3 = early0;
        Vector256<float> late0 = early0, late1 = early0, late2 = early0, late3 = early0;
        ref float tap = ref taps[0];
        for (int remainder = 0; remainder < Lanes; remainder++)
        {
            ref float before = ref Unsafe.Subtract(ref x, remainder);
            ref float after = ref Unsafe.Add(ref x, 1 + remainder);
            Vector256<float> before1 = Vector256.LoadUnsafe(ref before, 8);
            Vector256<float> before2 = Vector256.LoadUnsafe(ref before, 16);
            Vector256<float> before3 = Vector256.LoadUnsafe(ref before, 24);
            Vector256<float> after0 = Vector256.LoadUnsafe(ref after);
            Vector256<float> after1 = Vector256.LoadUnsafe(ref after, 8);
            Vector256<float> after2 = Vector256.LoadUnsafe(ref after, 16);
            for (int q = 0; q < perRemainder; q++)
            {
                Vector256<float> weight = Vector256.Create(tap);
                Vector256<float> before0 = Vector256.LoadUnsafe(ref before);
                Vector256<float> after3 = Vector256.LoadUnsafe(ref after, 24);
                early0 = Vector256.FusedMultiplyAdd(weight, before0, early0);
                early1 = Vector256.FusedMultiplyAdd(weight, before1, early1);
                early2 = Vector256.FusedMultiplyAdd(weight, before2, early2);
                early3 = Vector256.FusedMultiplyAdd(weight, before3, early3);
                late0 = Vector256.FusedMultiplyAdd(weight, after0, late0);
                late1 = Vector256.FusedMultiplyAdd(weight, after1, late1);
                late2 = Vector256.FusedMultiplyAdd(weight, after2, late2);
                late3 = Vector256.FusedMultiplyAdd(weight, after3, late3);
                (before3, before2, before1) = (before2, before1, before0);
                (after0, after1, after2) = (after1, after2, after3);
                before = ref Unsafe.Subtract(ref before, Lanes);
                after = ref Unsafe.Add(ref after, Lanes);
                tap = ref Unsafe.Add(ref tap, 1);
            }
        }

        (early0 + late0).StoreUnsafe(ref y);
        (early1 + late1).StoreUnsafe(ref y, 8);
        (early2 + late2).StoreUnsafe(ref y, 16);
        (early3 + late3).StoreUnsafe(ref y, 24);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void OneVector(ref float x, ref float y)
    {
        Vector256<float> early = Vector256<float>.Zero;
        Vector256<float> late = Vector256<float>.Zero;
        ref float tap = ref taps[0];
        for (int remainder = 0; remainder < Lanes; remainder++)
        {
            ref float before = ref Unsafe.Subtract(ref x, remainder);
            ref float after = ref Unsafe.Add(ref x, 1 + remainder);
            for (int q = 0; q < perRemainder; q++)
            {
                Vector256<float> weight = Vector256.Create(tap);
                early = Vector256.FusedMultiplyAdd(weight, Vector256.LoadUnsafe(ref before), early);
                late = Vector256.FusedMultiplyAdd(weight, Vector256.LoadUnsafe(ref after), late);
                before = ref Unsafe.Subtract(ref before, Lanes);
                after = ref Unsafe.Add(ref after, Lanes);
                tap = ref Unsafe.Add(ref tap, 1);
            }
        }

        (early + late).StoreUnsafe(ref y);
    }
}
