using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The highest magnitude from a sample to the next on the grid of eighths or sixteenths of a sample, from samples,
/// points half-way and quarter points.
/// </summary>
/// <remarks>
/// Each doubling makes the points half-way between neighbours with 2 taps a side: eighths right within 0.012 dB up to
/// 0.26 of the half of their rate, sixteenths within 0.001 dB up to 0.13 (minimax, Lawson's iteration).
/// </remarks>
internal static class GridPeaks
{
    /// <summary>Largest sum of the taps' magnitudes over any point on the grid of eighths, of samples, halves and quarters.</summary>
    public const double Gain = 2 * (0.5702332854270935 + 0.0709231048822403);

    private const float Eighth0 = 0.5702332854270935f;
    private const float Eighth1 = -0.0709231048822403f;
    private const float Sixteenth0 = 0.5644494295120239f;
    private const float Sixteenth1 = -0.06449071317911148f;

    /// <summary>Works through whole vectors of eight.</summary>
    /// <param name="samples">The first sample.</param>
    /// <param name="halves">The point half-way from it to the next.</param>
    /// <param name="firsts">Its first quarter point.</param>
    /// <param name="lasts">Its last quarter point.</param>
    /// <param name="closerFrom">Sixteenths are looked at where a peak on the grid of eighths passes this.</param>
    /// <param name="peaks">Where the peak from it to the next goes.</param>
    /// <param name="count">Samples; up to seven more are worked out.</param>
    public static void Take(
        ref float samples,
        ref float halves,
        ref float firsts,
        ref float lasts,
        float closerFrom,
        ref float peaks,
        int count)
    {
        int done = Vector512.IsHardwareAccelerated
            ? Sixteens(ref samples, ref halves, ref firsts, ref lasts, closerFrom, ref peaks, count)
            : 0;
        if (done < count)
        {
            Eights(ref samples, ref halves, ref firsts, ref lasts, closerFrom, ref peaks, done, count);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static int Sixteens(
        ref float samples,
        ref float halves,
        ref float firsts,
        ref float lasts,
        float closerFrom,
        ref float peaks,
        int count)
    {
        Vector512<float> closer = Vector512.Create(closerFrom);
        int i = 0;
        for (; i + Vector256<float>.Count < count; i += Vector512<float>.Count)
        {
            Vector512<float> lastBefore = WideAt(ref lasts, i - 1);
            Vector512<float> sample = WideAt(ref samples, i);
            Vector512<float> first = WideAt(ref firsts, i);
            Vector512<float> half = WideAt(ref halves, i);
            Vector512<float> last = WideAt(ref lasts, i);
            Vector512<float> next = WideAt(ref samples, i + 1);
            Vector512<float> firstAfter = WideAt(ref firsts, i + 1);

            Vector512<float> eighth1 = WideEighth(lastBefore, sample, first, half);
            Vector512<float> eighth3 = WideEighth(sample, first, half, last);
            Vector512<float> eighth5 = WideEighth(first, half, last, next);
            Vector512<float> eighth7 = WideEighth(half, last, next, firstAfter);
            Vector512<float> peak = Vector512.MaxNative(
                Vector512.MaxNative(WideHighest(sample, first), WideHighest(half, last)),
                Vector512.MaxNative(WideHighest(eighth1, eighth3), WideHighest(eighth5, eighth7)));
            Vector512<float> high = Vector512.GreaterThan(peak, closer);
            if (high != Vector512<float>.Zero)
            {
                Vector512<float> eighthBefore = WideEighth(WideAt(ref halves, i - 1), lastBefore, sample, first);
                Vector512<float> eighthAfter = WideEighth(last, next, firstAfter, WideAt(ref halves, i + 1));
                Vector512<float> early = Vector512.MaxNative(
                    WideHighest(WideSixteenth(eighthBefore, sample, eighth1, first), WideSixteenth(sample, eighth1, first, eighth3)),
                    WideHighest(WideSixteenth(eighth1, first, eighth3, half), WideSixteenth(first, eighth3, half, eighth5)));
                Vector512<float> late = Vector512.MaxNative(
                    WideHighest(WideSixteenth(eighth3, half, eighth5, last), WideSixteenth(half, eighth5, last, eighth7)),
                    WideHighest(WideSixteenth(eighth5, last, eighth7, next), WideSixteenth(last, eighth7, next, eighthAfter)));

                // Which intervals share a vector depends on where blocks begin, so each lane decides for itself.
                peak = Vector512.MaxNative(peak, high & Vector512.MaxNative(early, late));
            }

            peak.StoreUnsafe(ref peaks, (nuint)i);
        }

        return i;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Eights(
        ref float samples,
        ref float halves,
        ref float firsts,
        ref float lasts,
        float closerFrom,
        ref float peaks,
        int from,
        int count)
    {
        Vector256<float> closer = Vector256.Create(closerFrom);
        for (int i = from; i < count; i += Vector256<float>.Count)
        {
            Vector256<float> lastBefore = At(ref lasts, i - 1);
            Vector256<float> sample = At(ref samples, i);
            Vector256<float> first = At(ref firsts, i);
            Vector256<float> half = At(ref halves, i);
            Vector256<float> last = At(ref lasts, i);
            Vector256<float> next = At(ref samples, i + 1);
            Vector256<float> firstAfter = At(ref firsts, i + 1);

            Vector256<float> eighth1 = Eighth(lastBefore, sample, first, half);
            Vector256<float> eighth3 = Eighth(sample, first, half, last);
            Vector256<float> eighth5 = Eighth(first, half, last, next);
            Vector256<float> eighth7 = Eighth(half, last, next, firstAfter);
            Vector256<float> peak = Vector256.MaxNative(
                Vector256.MaxNative(Highest(sample, first), Highest(half, last)),
                Vector256.MaxNative(Highest(eighth1, eighth3), Highest(eighth5, eighth7)));
            Vector256<float> high = Vector256.GreaterThan(peak, closer);
            if (high != Vector256<float>.Zero)
            {
                Vector256<float> eighthBefore = Eighth(At(ref halves, i - 1), lastBefore, sample, first);
                Vector256<float> eighthAfter = Eighth(last, next, firstAfter, At(ref halves, i + 1));
                Vector256<float> early = Vector256.MaxNative(
                    Highest(Sixteenth(eighthBefore, sample, eighth1, first), Sixteenth(sample, eighth1, first, eighth3)),
                    Highest(Sixteenth(eighth1, first, eighth3, half), Sixteenth(first, eighth3, half, eighth5)));
                Vector256<float> late = Vector256.MaxNative(
                    Highest(Sixteenth(eighth3, half, eighth5, last), Sixteenth(half, eighth5, last, eighth7)),
                    Highest(Sixteenth(eighth5, last, eighth7, next), Sixteenth(last, eighth7, next, eighthAfter)));

                // Which intervals share a vector depends on where blocks begin, so each lane decides for itself.
                peak = Vector256.MaxNative(peak, high & Vector256.MaxNative(early, late));
            }

            peak.StoreUnsafe(ref peaks, (nuint)i);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> At(ref float x, int offset) =>
        Vector256.LoadUnsafe(ref Unsafe.Add(ref x, offset));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Highest(Vector256<float> a, Vector256<float> b) =>
        Vector256.MaxNative(Vector256.Abs(a), Vector256.Abs(b));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Eighth(Vector256<float> a, Vector256<float> b, Vector256<float> c, Vector256<float> d) =>
        Vector256.FusedMultiplyAdd(Vector256.Create(Eighth0), b + c, Vector256.Create(Eighth1) * (a + d));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Sixteenth(Vector256<float> a, Vector256<float> b, Vector256<float> c, Vector256<float> d) =>
        Vector256.FusedMultiplyAdd(Vector256.Create(Sixteenth0), b + c, Vector256.Create(Sixteenth1) * (a + d));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> WideAt(ref float x, int offset) =>
        Vector512.LoadUnsafe(ref Unsafe.Add(ref x, offset));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> WideHighest(Vector512<float> a, Vector512<float> b) =>
        Vector512.MaxNative(Vector512.Abs(a), Vector512.Abs(b));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> WideEighth(Vector512<float> a, Vector512<float> b, Vector512<float> c, Vector512<float> d) =>
        Vector512.FusedMultiplyAdd(Vector512.Create(Eighth0), b + c, Vector512.Create(Eighth1) * (a + d));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> WideSixteenth(Vector512<float> a, Vector512<float> b, Vector512<float> c, Vector512<float> d) =>
        Vector512.FusedMultiplyAdd(Vector512.Create(Sixteenth0), b + c, Vector512.Create(Sixteenth1) * (a + d));}
