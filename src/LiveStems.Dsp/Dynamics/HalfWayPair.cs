using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// A long and a short <see cref="HalfWayFilter"/> over the same samples in one pass, which then read and add them once. Each
/// gives the same bits as alone.
/// </summary>
/// <param name="longer">Taps a side a multiple of sixteen.</param>
/// <param name="shorter">Sixteen taps a side.</param>
internal sealed class HalfWayPair(HalfWayFilter longer, HalfWayFilter shorter)
{
    private const int Lanes = 8;

    private readonly bool canShare = EightRows.IsSupported && longer.HalfLength % 16 == 0 && longer.HalfLength > 16 && shorter.HalfLength == 16;

    /// <summary>Writes the points of both filters; see <see cref="HalfWayFilter.Process"/>.</summary>
    /// <param name="samples">The first sample.</param>
    /// <param name="points">Where the points of the longer filter go.</param>
    /// <param name="shortPoints">Where those of the shorter one go.</param>
    /// <param name="count">Points; up to seven more are written.</param>
    public void Process(ref float samples, ref float points, ref float shortPoints, int count)
    {
        int i = 0;
        for (; canShare && i + 7 * Lanes < count; i += 8 * Lanes)
        {
            EightVectors(ref Unsafe.Add(ref samples, i), ref Unsafe.Add(ref points, i), ref Unsafe.Add(ref shortPoints, i));
        }

        if (i < count)
        {
            longer.Process(ref Unsafe.Add(ref samples, i), ref Unsafe.Add(ref points, i), count - i);
            shorter.Process(ref Unsafe.Add(ref samples, i), ref Unsafe.Add(ref shortPoints, i), count - i);
        }
    }

    // Eight vectors as four of sixteen: taps eight apart take turns with two sets of samples.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void EightVectors(ref float x, ref float y, ref float z)
    {
        Vector512<float> even0 = Vector512<float>.Zero, even1 = even0, even2 = even0, even3 = even0;
        Vector512<float> odd0 = even0, odd1 = even0, odd2 = even0, odd3 = even0;
        Vector512<float> short0 = even0, short1 = even0, short2 = even0, short3 = even0;
        ref float tap = ref longer.Taps;
        ref float shortTap = ref shorter.Taps;
        int perRemainder = longer.HalfLength / Lanes;
        for (int remainder = 0; remainder < Lanes; remainder++)
        {
            ref float before = ref Unsafe.Subtract(ref x, remainder);
            ref float after = ref Unsafe.Add(ref x, 1 + remainder);
            Vector512<float> before0 = At(ref before, 0), before1 = At(ref before, 16), before2 = At(ref before, 32);
            Vector512<float> after1 = At(ref after, 16), after2 = At(ref after, 32), after3 = At(ref after, 48);
            Vector512<float> sum0 = before0 + At(ref after, 0), sum1 = before1 + after1, sum2 = before2 + after2, sum3 = At(ref before, 48) + after3;
            Vector512<float> weight = Vector512.Create(tap), shortWeight = Vector512.Create(shortTap);
            (even0, short0) = (Vector512.FusedMultiplyAdd(weight, sum0, even0), Vector512.FusedMultiplyAdd(shortWeight, sum0, short0));
            (even1, short1) = (Vector512.FusedMultiplyAdd(weight, sum1, even1), Vector512.FusedMultiplyAdd(shortWeight, sum1, short1));
            (even2, short2) = (Vector512.FusedMultiplyAdd(weight, sum2, even2), Vector512.FusedMultiplyAdd(shortWeight, sum2, short2));
            (even3, short3) = (Vector512.FusedMultiplyAdd(weight, sum3, even3), Vector512.FusedMultiplyAdd(shortWeight, sum3, short3));

            Vector512<float> oddBefore0 = At(ref before, -8), oddBefore1 = At(ref before, 8), oddBefore2 = At(ref before, 24);
            Vector512<float> oddAfter1 = At(ref after, 24), oddAfter2 = At(ref after, 40), oddAfter3 = At(ref after, 56);
            sum0 = oddBefore0 + At(ref after, 8);
            sum1 = oddBefore1 + oddAfter1;
            sum2 = oddBefore2 + oddAfter2;
            sum3 = At(ref before, 40) + oddAfter3;
            (weight, shortWeight) = (Vector512.Create(Unsafe.Add(ref tap, 1)), Vector512.Create(Unsafe.Add(ref shortTap, 1)));
            (odd0, short0) = (Vector512.FusedMultiplyAdd(weight, sum0, odd0), Vector512.FusedMultiplyAdd(shortWeight, sum0, short0));
            (odd1, short1) = (Vector512.FusedMultiplyAdd(weight, sum1, odd1), Vector512.FusedMultiplyAdd(shortWeight, sum1, short1));
            (odd2, short2) = (Vector512.FusedMultiplyAdd(weight, sum2, odd2), Vector512.FusedMultiplyAdd(shortWeight, sum2, short2));
            (odd3, short3) = (Vector512.FusedMultiplyAdd(weight, sum3, odd3), Vector512.FusedMultiplyAdd(shortWeight, sum3, short3));

            for (int q = 2; q < perRemainder; q += 2)
            {
                before = ref Unsafe.Subtract(ref before, 2 * Lanes);
                after = ref Unsafe.Add(ref after, 2 * Lanes);
                Vector512<float> farther = At(ref before, 0), later = At(ref after, 48);
                weight = Vector512.Create(Unsafe.Add(ref tap, q));
                even0 = Vector512.FusedMultiplyAdd(weight, farther + after1, even0);
                even1 = Vector512.FusedMultiplyAdd(weight, before0 + after2, even1);
                even2 = Vector512.FusedMultiplyAdd(weight, before1 + after3, even2);
                even3 = Vector512.FusedMultiplyAdd(weight, before2 + later, even3);
                (before2, before1, before0) = (before1, before0, farther);
                (after1, after2, after3) = (after2, after3, later);

                (farther, later) = (At(ref before, -8), At(ref after, 56));
                weight = Vector512.Create(Unsafe.Add(ref tap, q + 1));
                odd0 = Vector512.FusedMultiplyAdd(weight, farther + oddAfter1, odd0);
                odd1 = Vector512.FusedMultiplyAdd(weight, oddBefore0 + oddAfter2, odd1);
                odd2 = Vector512.FusedMultiplyAdd(weight, oddBefore1 + oddAfter3, odd2);
                odd3 = Vector512.FusedMultiplyAdd(weight, oddBefore2 + later, odd3);
                (oddBefore2, oddBefore1, oddBefore0) = (oddBefore1, oddBefore0, farther);
                (oddAfter1, oddAfter2, oddAfter3) = (oddAfter2, oddAfter3, later);
            }

            tap = ref Unsafe.Add(ref tap, perRemainder);
            shortTap = ref Unsafe.Add(ref shortTap, 2);
        }

        (even0 + odd0).StoreUnsafe(ref y);
        (even1 + odd1).StoreUnsafe(ref y, 16);
        (even2 + odd2).StoreUnsafe(ref y, 32);
        (even3 + odd3).StoreUnsafe(ref y, 48);
        short0.StoreUnsafe(ref z);
        short1.StoreUnsafe(ref z, 16);
        short2.StoreUnsafe(ref z, 32);
        short3.StoreUnsafe(ref z, 48);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> At(ref float samples, int offset) =>
        Vector512.LoadUnsafe(ref Unsafe.Add(ref samples, offset));
}
