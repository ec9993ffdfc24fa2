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
/// The filter is symmetric: the samples of a tap on both sides are added first. Taps whose distances differ by eight meet
/// the same vectors of eight samples, so they are taken in that order: first all distances of remainder 0, then of
/// remainder 1, and so on. Long filters add up every other tap apart, so that the sum need not wait for each product.
/// Single vectors take the same operations in the same order.
/// </para>
/// </remarks>
internal sealed class HalfWayFilter
{
    private const int Lanes = 8;

    // Tap of distance remainder + 8 · q at [remainder · perRemainder + q].
    private readonly float[] taps;
    private readonly int perRemainder;
    private readonly bool isShort;

    /// <param name="halfLength">Taps a side, a multiple of eight.</param>
    /// <param name="kaiserBeta">Shape of the window.</param>
    public HalfWayFilter(int halfLength, double kaiserBeta)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(halfLength % Lanes, 0);
        HalfLength = halfLength;
        perRemainder = halfLength / Lanes;
        isShort = perRemainder <= 2;
        double[] plain = new double[halfLength];
        for (int j = 0; j < halfLength; j++)
        {
            double time = j + 0.5;
            plain[j] = Math.Sin(Math.PI * time) / (Math.PI * time) * KaiserWindow.Value(time / halfLength, kaiserBeta);
        }

        // They sum to ½ a side, so a constant stays what it is.
        double total = 0;
        foreach (double tap in plain)
        {
            total += 2 * tap;
        }

        taps = new float[halfLength];
        for (int j = 0; j < halfLength; j++)
        {
            taps[j % Lanes * perRemainder + j / Lanes] = (float)(plain[j] / total);
        }
    }

    /// <summary>Taps a side.</summary>
    public int HalfLength { get; }

    /// <summary>The taps, those of one remainder after the other.</summary>
    internal ref float Taps => ref taps[0];

    /// <summary>
    /// How far the points of two filters can lie apart, as a share of the root of the sum of squares of all samples that either
    /// looks at (Cauchy and Schwarz): the root of the sum of squares of the differences of their taps.
    /// </summary>
    public static double Distance(HalfWayFilter one, HalfWayFilter other)
    {
        double sum = 0;
        for (int distance = 0; distance < Math.Max(one.HalfLength, other.HalfLength); distance++)
        {
            sum += 2 * Math.Pow(one.Tap(distance) - other.Tap(distance), 2);
        }

        return Math.Sqrt(sum);
    }

    /// <summary>
    /// Writes the points that follow a run of samples. Whole vectors are read and written: up to seven more points come
    /// out than asked for, and <see cref="HalfLength"/> samples either side are looked at.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Process(ref float samples, ref float points, int count)
    {
        int i = 0;
        for (; Vector512.IsHardwareAccelerated && perRemainder == 2 && i + 7 * Lanes < count; i += 8 * Lanes)
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

    private double Tap(int distance) => distance < HalfLength ? taps[distance % Lanes * perRemainder + distance / Lanes] : 0;

    // Two taps a remainder, eight vectors as four of sixteen.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void EightVectors(ref float x, ref float y)
    {
        Vector512<float> sum0 = Vector512<float>.Zero, sum1 = sum0, sum2 = sum0, sum3 = sum0;
        ref float tap = ref taps[0];
        for (int remainder = 0; remainder < Lanes; remainder++)
        {
            ref float before = ref Unsafe.Subtract(ref x, remainder);
            ref float after = ref Unsafe.Add(ref x, 1 + remainder);
            Vector512<float> weight = Vector512.Create(tap);
            sum0 = Vector512.FusedMultiplyAdd(weight, At(ref before, 0) + At(ref after, 0), sum0);
            sum1 = Vector512.FusedMultiplyAdd(weight, At(ref before, 16) + At(ref after, 16), sum1);
            sum2 = Vector512.FusedMultiplyAdd(weight, At(ref before, 32) + At(ref after, 32), sum2);
            sum3 = Vector512.FusedMultiplyAdd(weight, At(ref before, 48) + At(ref after, 48), sum3);
            weight = Vector512.Create(Unsafe.Add(ref tap, 1));
            sum0 = Vector512.FusedMultiplyAdd(weight, At(ref before, -8) + At(ref after, 8), sum0);
            sum1 = Vector512.FusedMultiplyAdd(weight, At(ref before, 8) + At(ref after, 24), sum1);
            sum2 = Vector512.FusedMultiplyAdd(weight, At(ref before, 24) + At(ref after, 40), sum2);
            sum3 = Vector512.FusedMultiplyAdd(weight, At(ref before, 40) + At(ref after, 56), sum3);
            tap = ref Unsafe.Add(ref tap, 2);
        }

        sum0.StoreUnsafe(ref y);
        sum1.StoreUnsafe(ref y, 16);
        sum2.StoreUnsafe(ref y, 32);
        sum3.StoreUnsafe(ref y, 48);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> At(ref float samples, int offset) =>
        Vector512.LoadUnsafe(ref Unsafe.Add(ref samples, offset));

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void FourVectors(ref float x, ref float y)
    {
        Vector256<float> even0 = Vector256<float>.Zero, even1 = even0, even2 = even0, even3 = even0;
        Vector256<float> odd0 = even0, odd1 = even0, odd2 = even0, odd3 = even0;
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
                even0 = Vector256.FusedMultiplyAdd(weight, before0 + after0, even0);
                even1 = Vector256.FusedMultiplyAdd(weight, before1 + after1, even1);
                even2 = Vector256.FusedMultiplyAdd(weight, before2 + after2, even2);
                even3 = Vector256.FusedMultiplyAdd(weight, before3 + after3, even3);
                if (!isShort)
                {
                    (even0, even1, even2, even3, odd0, odd1, odd2, odd3) = (odd0, odd1, odd2, odd3, even0, even1, even2, even3);
                }

                (before3, before2, before1) = (before2, before1, before0);
                (after0, after1, after2) = (after1, after2, after3);
                before = ref Unsafe.Subtract(ref before, Lanes);
                after = ref Unsafe.Add(ref after, Lanes);
                tap = ref Unsafe.Add(ref tap, 1);
            }
        }

        (even0 + odd0).StoreUnsafe(ref y);
        (even1 + odd1).StoreUnsafe(ref y, 8);
        (even2 + odd2).StoreUnsafe(ref y, 16);
        (even3 + odd3).StoreUnsafe(ref y, 24);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void OneVector(ref float x, ref float y)
    {
        Vector256<float> even = Vector256<float>.Zero;
        Vector256<float> odd = Vector256<float>.Zero;
        ref float tap = ref taps[0];
        for (int remainder = 0; remainder < Lanes; remainder++)
        {
            ref float before = ref Unsafe.Subtract(ref x, remainder);
            ref float after = ref Unsafe.Add(ref x, 1 + remainder);
            for (int q = 0; q < perRemainder; q++)
            {
                Vector256<float> weight = Vector256.Create(tap);
                even = Vector256.FusedMultiplyAdd(weight, Vector256.LoadUnsafe(ref before) + Vector256.LoadUnsafe(ref after), even);
                if (!isShort)
                {
                    (even, odd) = (odd, even);
                }

                before = ref Unsafe.Subtract(ref before, Lanes);
                after = ref Unsafe.Add(ref after, Lanes);
                tap = ref Unsafe.Add(ref tap, 1);
            }
        }

        (even + odd).StoreUnsafe(ref y);
    }
}
