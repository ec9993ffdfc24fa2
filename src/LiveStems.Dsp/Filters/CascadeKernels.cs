using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// Runs pairs of sections over a stretch of [left right] frames, in place.
/// </summary>
/// <remarks>
/// At step t section k of the cascade works on frame t − k: the sections of a pair share one vector, the second a frame
/// behind the first, and each section takes what the one before it gave a step earlier, so that within a step nothing
/// waits for anything else. At both ends of the stretch, where not every section has a frame, the sections run one by
/// one. Every frame goes through the same operations wherever a stretch begins or ends.
/// </remarks>
internal static class CascadeKernels
{
    /// <summary>The most pairs that one call runs.</summary>
    public const int MaximumPairs = 4;

    /// <summary>Runs 1 to <see cref="MaximumPairs"/> pairs, as many as there are stages.</summary>
    public static void Run(
        Span<Vector128<double>> frames, ReadOnlySpan<StageCoefficients> stages, Span<Vector256<double>> r, Span<Vector256<double>> s)
    {
        if (CascadeQuads.IsSupported && stages.Length > 1 && frames.Length > CascadeQuads.Lag(stages.Length))
        {
            CascadeQuads.Run(frames, stages, r, s);
            return;
        }

        int lag = 2 * stages.Length - 1;
        if (frames.Length <= lag)
        {
            OneByOne(frames, stages, r, s);
            return;
        }

        Head(frames, stages, r, s, lag);
        switch (stages.Length)
        {
            case 1:
                OnePair(frames, stages, r, s);
                break;
            case 2:
                TwoPairs(frames, stages, r, s);
                break;
            case 3:
                ThreePairs(frames, stages, r, s);
                break;
            default:
                FourPairs(frames, stages, r, s);
                break;
        }

        Tail(frames, stages, r, s);
    }

    private static void OneByOne(
        Span<Vector128<double>> frames, ReadOnlySpan<StageCoefficients> stages, Span<Vector256<double>> r, Span<Vector256<double>> s)
    {
        for (int j = 0; j < stages.Length; j++)
        {
            stages[j].RunFirst(frames, ref r[j], ref s[j]);
            stages[j].RunSecond(frames, ref r[j], ref s[j]);
        }
    }

    // Brings section k as far as frame lag − k, so that all can run together from step lag.
    private static void Head(
        Span<Vector128<double>> frames, ReadOnlySpan<StageCoefficients> stages, Span<Vector256<double>> r, Span<Vector256<double>> s, int lag)
    {
        for (int j = 0; j < stages.Length; j++)
        {
            stages[j].RunFirst(frames[..(lag - 2 * j)], ref r[j], ref s[j]);
            stages[j].RunSecond(frames[..(lag - 2 * j - 1)], ref r[j], ref s[j]);
        }
    }

    // Runs section k over its last k frames.
    private static void Tail(
        Span<Vector128<double>> frames, ReadOnlySpan<StageCoefficients> stages, Span<Vector256<double>> r, Span<Vector256<double>> s)
    {
        for (int j = 0; j < stages.Length; j++)
        {
            stages[j].RunFirst(frames[^(2 * j)..], ref r[j], ref s[j]);
            stages[j].RunSecond(frames[^(2 * j + 1)..], ref r[j], ref s[j]);
        }
    }

    private static void OnePair(
        Span<Vector128<double>> frames, ReadOnlySpan<StageCoefficients> stages, Span<Vector256<double>> r, Span<Vector256<double>> s)
    {
        ref readonly StageCoefficients c0 = ref stages[0];
        Vector256<double> r0 = r[0], s0 = s[0], y0 = Waiting(frames, 1, 0);
        for (int t = 1; t < frames.Length; t++)
        {
            y0 = c0.Run(Vector256.Create(frames[t], y0.GetLower()), ref r0, ref s0);
            frames[t - 1] = y0.GetUpper();
        }

        (r[0], s[0]) = (r0, s0);
        frames[^1] = y0.GetLower();
    }

    private static void TwoPairs(
        Span<Vector128<double>> frames, ReadOnlySpan<StageCoefficients> stages, Span<Vector256<double>> r, Span<Vector256<double>> s)
    {
        ref readonly StageCoefficients c0 = ref stages[0];
        ref readonly StageCoefficients c1 = ref stages[1];
        Vector256<double> r0 = r[0], s0 = s[0], y0 = Waiting(frames, 3, 0);
        Vector256<double> r1 = r[1], s1 = s[1], y1 = Waiting(frames, 3, 1);
        for (int t = 3; t < frames.Length; t++)
        {
            y1 = c1.Run(Vector256.Create(y0.GetUpper(), y1.GetLower()), ref r1, ref s1);
            y0 = c0.Run(Vector256.Create(frames[t], y0.GetLower()), ref r0, ref s0);
            frames[t - 3] = y1.GetUpper();
        }

        (r[0], s[0]) = (r0, s0);
        (r[1], s[1]) = (r1, s1);
        Keep(frames, 0, y0);
        frames[^3] = y1.GetLower();
    }

    private static void ThreePairs(
        Span<Vector128<double>> frames, ReadOnlySpan<StageCoefficients> stages, Span<Vector256<double>> r, Span<Vector256<double>> s)
    {
        ref readonly StageCoefficients c0 = ref stages[0];
        ref readonly StageCoefficients c1 = ref stages[1];
        ref readonly StageCoefficients c2 = ref stages[2];
        Vector256<double> r0 = r[0], s0 = s[0], y0 = Waiting(frames, 5, 0);
        Vector256<double> r1 = r[1], s1 = s[1], y1 = Waiting(frames, 5, 1);
        Vector256<double> r2 = r[2], s2 = s[2], y2 = Waiting(frames, 5, 2);
        for (int t = 5; t < frames.Length; t++)
        {
            y2 = c2.Run(Vector256.Create(y1.GetUpper(), y2.GetLower()), ref r2, ref s2);
            y1 = c1.Run(Vector256.Create(y0.GetUpper(), y1.GetLower()), ref r1, ref s1);
            y0 = c0.Run(Vector256.Create(frames[t], y0.GetLower()), ref r0, ref s0);
            frames[t - 5] = y2.GetUpper();
        }

        (r[0], s[0]) = (r0, s0);
        (r[1], s[1]) = (r1, s1);
        (r[2], s[2]) = (r2, s2);
        Keep(frames, 0, y0);
        Keep(frames, 1, y1);
        frames[^5] = y2.GetLower();
    }

    private static void FourPairs(
        Span<Vector128<double>> frames, ReadOnlySpan<StageCoefficients> stages, Span<Vector256<double>> r, Span<Vector256<double>> s)
    {
        ref readonly StageCoefficients c0 = ref stages[0];
        ref readonly StageCoefficients c1 = ref stages[1];
        ref readonly StageCoefficients c2 = ref stages[2];
        ref readonly StageCoefficients c3 = ref stages[3];
        Vector256<double> r0 = r[0], s0 = s[0], y0 = Waiting(frames, 7, 0);
        Vector256<double> r1 = r[1], s1 = s[1], y1 = Waiting(frames, 7, 1);
        Vector256<double> r2 = r[2], s2 = s[2], y2 = Waiting(frames, 7, 2);
        Vector256<double> r3 = r[3], s3 = s[3], y3 = Waiting(frames, 7, 3);
        for (int t = 7; t < frames.Length; t++)
        {
            y3 = c3.Run(Vector256.Create(y2.GetUpper(), y3.GetLower()), ref r3, ref s3);
            y2 = c2.Run(Vector256.Create(y1.GetUpper(), y2.GetLower()), ref r2, ref s2);
            y1 = c1.Run(Vector256.Create(y0.GetUpper(), y1.GetLower()), ref r1, ref s1);
            y0 = c0.Run(Vector256.Create(frames[t], y0.GetLower()), ref r0, ref s0);
            frames[t - 7] = y3.GetUpper();
        }

        (r[0], s[0]) = (r0, s0);
        (r[1], s[1]) = (r1, s1);
        (r[2], s[2]) = (r2, s2);
        (r[3], s[3]) = (r3, s3);
        Keep(frames, 0, y0);
        Keep(frames, 1, y1);
        Keep(frames, 2, y2);
        frames[^7] = y3.GetLower();
    }

    // What the sections of a pair gave at the step before the first common one: it waits in their frames. The last
    // section has given nothing.
    private static Vector256<double> Waiting(ReadOnlySpan<Vector128<double>> frames, int lag, int pair)
    {
        int newest = lag - 1 - 2 * pair;
        return Vector256.Create(frames[newest], newest > 0 ? frames[newest - 1] : default);
    }

    // Puts back what a pair gave at the last common step.
    private static void Keep(Span<Vector128<double>> frames, int pair, Vector256<double> y)
    {
        int newest = frames.Length - 1 - 2 * pair;
        frames[newest] = y.GetLower();
        frames[newest - 1] = y.GetUpper();
    }
}
