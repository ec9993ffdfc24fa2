using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// Runs pairs of sections over a stretch of [left right] frames, in place.
/// </summary>
/// <remarks>
/// The sections of a pair share one vector, the second a frame behind the first; each pair takes what the pair before it
/// gave a step earlier. So at step t pair j works on frames t − 2j and t − 2j − 1 and nothing within a step waits for
/// anything else in it. The steps at both ends, where some lanes have no frame, are masked. Every frame goes through the
/// same operations wherever a stretch begins or ends.
/// </remarks>
internal static class CascadeKernels
{
    /// <summary>The most pairs that one call runs.</summary>
    public const int MaximumPairs = 4;

    /// <summary>Runs 1, 2 or 4 pairs, as many as there are stages.</summary>
    public static void Pairs(
        Span<Vector128<double>> frames, ReadOnlySpan<StageCoefficients> stages, Span<Vector256<double>> band, Span<Vector256<double>> low)
    {
        Span<Vector256<double>> y = stackalloc Vector256<double>[MaximumPairs];
        int lag = 2 * stages.Length - 1;
        int count = frames.Length;
        if (count <= lag)
        {
            Edge(frames, stages, band, low, y, 0, count + lag);
            return;
        }

        Edge(frames, stages, band, low, y, 0, lag);
        switch (stages.Length)
        {
            case 1:
                OnePair(frames, stages, band, low, y);
                break;
            case 2:
                TwoPairs(frames, stages, band, low, y);
                break;
            default:
                FourPairs(frames, stages, band, low, y);
                break;
        }

        Edge(frames, stages, band, low, y, count, count + lag);
    }

    /// <summary>A section by itself: the first of its pair.</summary>
    public static void Single(Span<Vector128<double>> frames, in StageCoefficients stage, ref Vector128<double> band, ref Vector128<double> low)
    {
        Vector128<double> bandState = band;
        Vector128<double> lowState = low;
        for (int n = 0; n < frames.Length; n++)
        {
            frames[n] = stage.RunFirst(frames[n], ref bandState, ref lowState);
        }

        band = bandState;
        low = lowState;
    }

    private static void OnePair(
        Span<Vector128<double>> frames, ReadOnlySpan<StageCoefficients> stages, Span<Vector256<double>> band, Span<Vector256<double>> low, Span<Vector256<double>> y)
    {
        ref readonly StageCoefficients c0 = ref stages[0];
        Vector256<double> b0 = band[0], l0 = low[0], y0 = y[0];
        for (int t = 1; t < frames.Length; t++)
        {
            y0 = c0.Run(Vector256.Create(frames[t], y0.GetLower()), ref b0, ref l0);
            frames[t - 1] = y0.GetUpper();
        }

        (band[0], low[0], y[0]) = (b0, l0, y0);
    }

    private static void TwoPairs(
        Span<Vector128<double>> frames, ReadOnlySpan<StageCoefficients> stages, Span<Vector256<double>> band, Span<Vector256<double>> low, Span<Vector256<double>> y)
    {
        ref readonly StageCoefficients c0 = ref stages[0];
        ref readonly StageCoefficients c1 = ref stages[1];
        Vector256<double> b0 = band[0], l0 = low[0], y0 = y[0];
        Vector256<double> b1 = band[1], l1 = low[1], y1 = y[1];
        for (int t = 3; t < frames.Length; t++)
        {
            y1 = c1.Run(Vector256.Create(y0.GetUpper(), y1.GetLower()), ref b1, ref l1);
            y0 = c0.Run(Vector256.Create(frames[t], y0.GetLower()), ref b0, ref l0);
            frames[t - 3] = y1.GetUpper();
        }

        (band[0], low[0], y[0]) = (b0, l0, y0);
        (band[1], low[1], y[1]) = (b1, l1, y1);
    }

    private static void FourPairs(
        Span<Vector128<double>> frames, ReadOnlySpan<StageCoefficients> stages, Span<Vector256<double>> band, Span<Vector256<double>> low, Span<Vector256<double>> y)
    {
        ref readonly StageCoefficients c0 = ref stages[0];
        ref readonly StageCoefficients c1 = ref stages[1];
        ref readonly StageCoefficients c2 = ref stages[2];
        ref readonly StageCoefficients c3 = ref stages[3];
        Vector256<double> b0 = band[0], l0 = low[0], y0 = y[0];
        Vector256<double> b1 = band[1], l1 = low[1], y1 = y[1];
        Vector256<double> b2 = band[2], l2 = low[2], y2 = y[2];
        Vector256<double> b3 = band[3], l3 = low[3], y3 = y[3];
        for (int t = 7; t < frames.Length; t++)
        {
            y3 = c3.Run(Vector256.Create(y2.GetUpper(), y3.GetLower()), ref b3, ref l3);
            y2 = c2.Run(Vector256.Create(y1.GetUpper(), y2.GetLower()), ref b2, ref l2);
            y1 = c1.Run(Vector256.Create(y0.GetUpper(), y1.GetLower()), ref b1, ref l1);
            y0 = c0.Run(Vector256.Create(frames[t], y0.GetLower()), ref b0, ref l0);
            frames[t - 7] = y3.GetUpper();
        }

        (band[0], low[0], y[0]) = (b0, l0, y0);
        (band[1], low[1], y[1]) = (b1, l1, y1);
        (band[2], low[2], y[2]) = (b2, l2, y2);
        (band[3], low[3], y[3]) = (b3, l3, y3);
    }

    // The steps at which not every lane has a frame: those without keep their state.
    private static void Edge(
        Span<Vector128<double>> frames,
        ReadOnlySpan<StageCoefficients> stages,
        Span<Vector256<double>> band,
        Span<Vector256<double>> low,
        Span<Vector256<double>> y,
        int start,
        int end)
    {
        int last = stages.Length - 1;
        for (int t = start; t < end; t++)
        {
            for (int j = last; j >= 0; j--)
            {
                Vector128<double> input = j > 0 ? y[j - 1].GetUpper() : t < frames.Length ? frames[t] : default;
                Vector256<double> mask = Mask(t - 2 * j, frames.Length);
                Vector256<double> b = band[j], l = low[j];
                y[j] = stages[j].Run(Vector256.Create(input, y[j].GetLower()), ref b, ref l);
                band[j] = Vector256.ConditionalSelect(mask, b, band[j]);
                low[j] = Vector256.ConditionalSelect(mask, l, low[j]);
            }

            int done = t - 2 * last - 1;
            if (done >= 0)
            {
                frames[done] = y[last].GetUpper();
            }
        }
    }

    private static Vector256<double> Mask(int frame, int count)
    {
        Vector128<double> first = frame >= 0 && frame < count ? Vector128<double>.AllBitsSet : default;
        Vector128<double> second = frame >= 1 && frame <= count ? Vector128<double>.AllBitsSet : default;
        return Vector256.Create(first, second);
    }
}
