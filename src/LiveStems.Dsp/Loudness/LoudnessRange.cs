namespace LiveStems.Dsp.Loudness;

/// <summary>
/// Loudness range: the gates and percentiles of EBU Tech 3342 over short-term loudness every 100 ms, each percentile to
/// the middle of a bin of 1/1024 LU.
/// </summary>
/// <param name="isForAudioThread">Whether the memory must be there before it is needed.</param>
internal sealed class LoudnessRange(bool isForAudioThread = false)
{
    private const double RelativeGateLu = -20;
    private const double LowPercentile = 10;
    private const double HighPercentile = 95;

    private readonly LoudnessHistogram histogram = new(isForAudioThread);
    private double totalEnergy;

    /// <summary>Loudness range in LU; 0 when no value passes the gates.</summary>
    public double Lu
    {
        get
        {
            if (histogram.Count == 0)
            {
                return 0;
            }

            double gate = LoudnessScale.ToLufs(totalEnergy / histogram.Count) + RelativeGateLu;
            int firstBin = LoudnessHistogram.BinOf(gate);
            int kept = histogram.CountFrom(firstBin);
            int gatedOut = histogram.Count - kept;
            int low = histogram.BinOfRank(gatedOut + Rank(LowPercentile, kept));
            int high = histogram.BinOfRank(gatedOut + Rank(HighPercentile, kept));
            return LoudnessHistogram.MiddleOf(high) - LoudnessHistogram.MiddleOf(low);
        }
    }

    /// <summary>Adds the weighted mean square of a short-term window.</summary>
    public void Add(double meanSquare)
    {
        double lufs = LoudnessScale.ToLufs(meanSquare);
        if (lufs >= LoudnessScale.AbsoluteGateLufs)
        {
            histogram.Add(LoudnessHistogram.BinOf(lufs));
            totalEnergy += meanSquare;
        }
    }

    /// <summary>Forgets every value.</summary>
    public void Reset()
    {
        histogram.Reset();
        totalEnergy = 0;
    }

    // Tech 3342 section 5: round((n − 1) p / 100 + 1), halves away from zero.
    private static int Rank(double percentile, int count) =>
        (int)Math.Round((count - 1) * percentile / 100 + 1, MidpointRounding.AwayFromZero);
}
