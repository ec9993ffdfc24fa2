using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Spectral;

/// <summary>Where the last pass of a transform leaves its output.</summary>
internal interface IComplexTarget
{
    /// <summary>Takes the complex numbers from <paramref name="first"/> on.</summary>
    void Store(nint first, ComplexLanes value);
}

/// <summary>
/// Joins the transforms of the eight lanes into one: a transposition of eight by eight, twiddles, and a radix-8 butterfly
/// across what were the lanes.
/// </summary>
internal static class CrossLanePass
{
    public static void Run<TTarget>(ref float source, in TTarget target, ref float twiddles, nint length)
        where TTarget : struct, IComplexTarget, allows ref struct
    {
        for (nint k = 0; k < length; k += ComplexLanes.Count)
        {
            ref float block = ref Unsafe.Add(ref source, k * ComplexLanes.Floats);
            Transpose(
                ref block,
                out Vector256<float> r0,
                out Vector256<float> r1,
                out Vector256<float> r2,
                out Vector256<float> r3,
                out Vector256<float> r4,
                out Vector256<float> r5,
                out Vector256<float> r6,
                out Vector256<float> r7);
            Transpose(
                ref Unsafe.Add(ref block, ComplexLanes.Count),
                out Vector256<float> i0,
                out Vector256<float> i1,
                out Vector256<float> i2,
                out Vector256<float> i3,
                out Vector256<float> i4,
                out Vector256<float> i5,
                out Vector256<float> i6,
                out Vector256<float> i7);
            ref float factors = ref Unsafe.Add(ref twiddles, 7 * 2 * k);
            ComplexLanes x0 = new(r0, i0);
            ComplexLanes x4 = Turn(new(r4, i4), ref factors, 3);
            ComplexLanes x2 = Turn(new(r2, i2), ref factors, 1);
            ComplexLanes x6 = Turn(new(r6, i6), ref factors, 5);
            Butterfly8.Even(ref x0, ref x2, ref x4, ref x6);
            ComplexLanes x1 = Turn(new(r1, i1), ref factors, 0);
            ComplexLanes x5 = Turn(new(r5, i5), ref factors, 4);
            ComplexLanes x3 = Turn(new(r3, i3), ref factors, 2);
            ComplexLanes x7 = Turn(new(r7, i7), ref factors, 6);
            Butterfly8.Odd(ref x1, ref x3, ref x5, ref x7);
            target.Store(k, x0 + x1);
            target.Store(k + length, x2 + x3);
            target.Store(k + 2 * length, x4.MinusI(x5));
            target.Store(k + 3 * length, x6 + x7);
            target.Store(k + 4 * length, x0 - x1);
            target.Store(k + 5 * length, x2 - x3);
            target.Store(k + 6 * length, x4.PlusI(x5));
            target.Store(k + 7 * length, x6 - x7);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static ComplexLanes Turn(ComplexLanes value, ref float factors, nint lane) => value.Times(
        Vector256.LoadUnsafe(ref factors, (nuint)(lane * ComplexLanes.Floats)),
        Vector256.LoadUnsafe(ref factors, (nuint)(lane * ComplexLanes.Floats + ComplexLanes.Count)));

    /// <summary>Reads eight rows of eight, two cache-line halves apart, as columns.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Transpose(
        ref float rows,
        out Vector256<float> c0,
        out Vector256<float> c1,
        out Vector256<float> c2,
        out Vector256<float> c3,
        out Vector256<float> c4,
        out Vector256<float> c5,
        out Vector256<float> c6,
        out Vector256<float> c7)
    {
        HalfTranspose(ref rows, out c0, out c1, out c2, out c3);
        HalfTranspose(ref Unsafe.Add(ref rows, 4), out c4, out c5, out c6, out c7);
    }

    /// <summary>Four columns; rows 0 to 3 fill the lower halves, rows 4 to 7 the upper ones.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void HalfTranspose(
        ref float rows, out Vector256<float> c0, out Vector256<float> c1, out Vector256<float> c2, out Vector256<float> c3)
    {
        Vector256<float> a = Halves(ref rows, 0);
        Vector256<float> b = Halves(ref rows, 1);
        Vector256<float> c = Halves(ref rows, 2);
        Vector256<float> d = Halves(ref rows, 3);
        Vector256<float> abLow = LaneShuffles.InterleaveLow(a, b);
        Vector256<float> cdLow = LaneShuffles.InterleaveLow(c, d);
        Vector256<float> abHigh = LaneShuffles.InterleaveHigh(a, b);
        Vector256<float> cdHigh = LaneShuffles.InterleaveHigh(c, d);
        c0 = LaneShuffles.LowPairs(abLow, cdLow);
        c1 = LaneShuffles.HighPairs(abLow, cdLow);
        c2 = LaneShuffles.LowPairs(abHigh, cdHigh);
        c3 = LaneShuffles.HighPairs(abHigh, cdHigh);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Halves(ref float rows, nint row) => Vector256.Create(
        Vector128.LoadUnsafe(ref rows, (nuint)(row * ComplexLanes.Floats)),
        Vector128.LoadUnsafe(ref rows, (nuint)((row + 4) * ComplexLanes.Floats)));
}
