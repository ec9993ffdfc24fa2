namespace LiveStems.Dsp.Loudness;

/// <summary>
/// Integrated loudness: the two gates of BS.1770-5 Annex 1 (equations 4 to 7) over blocks of 400 ms.
/// </summary>
/// <remarks>
/// Every bin keeps the sum of the energies in it, so only the one bin that the relative gate falls into is not exact:
/// it counts as a whole, by its mean. The result is that of a relative gate less than 0.001 LU away.
/// </remarks>
internal sealed class GatedLoudness
{
    private const double RelativeGateLu = -10;

    private static readonly double RelativeGateRatio = Decibels.ToPower(RelativeGateLu);

    private readonly LoudnessHistogram histogram;
    private readonly double[] energies = new double[LoudnessHistogram.Bins];
    private readonly double[] pageEnergies = new double[LoudnessHistogram.Pages];
    private double totalEnergy;

    /// <param name="isForAudioThread">Whether the memory must be there before it is needed.</param>
    public GatedLoudness(bool isForAudioThread = false)
    {
        histogram = new LoudnessHistogram(isForAudioThread);
        if (isForAudioThread)
        {
            // As in the histogram.
            Array.Clear(energies);
        }
    }

    /// <summary>Integrated loudness in LUFS; −∞ when no block passes the gates.</summary>
    public double Lufs
    {
        get
        {
            if (histogram.Count == 0)
            {
                return double.NegativeInfinity;
            }

            double threshold = totalEnergy / histogram.Count * RelativeGateRatio;
            return LoudnessScale.ToLufs(MeanAbove(threshold));
        }
    }

    /// <summary>Adds the weighted mean square of a gating block.</summary>
    public void Add(double meanSquare)
    {
        double lufs = LoudnessScale.ToLufs(meanSquare);
        if (lufs > LoudnessScale.AbsoluteGateLufs)
        {
            int bin = LoudnessHistogram.BinOf(lufs);
            histogram.Add(bin);
            energies[bin] += meanSquare;
            pageEnergies[LoudnessHistogram.PageOf(bin)] += meanSquare;
            totalEnergy += meanSquare;
        }
    }

    /// <summary>Forgets every block.</summary>
    public void Reset()
    {
        for (int page = 0; page < LoudnessHistogram.Pages; page++)
        {
            if (histogram.Holds(page))
            {
                Array.Clear(energies, page * LoudnessHistogram.BinsPerPage, LoudnessHistogram.BinsPerPage);
                pageEnergies[page] = 0;
            }
        }

        histogram.Reset();
        totalEnergy = 0;
    }

    private double MeanAbove(double threshold)
    {
        int bin = LoudnessHistogram.BinOf(LoudnessScale.ToLufs(threshold));
        if (energies[bin] <= threshold * histogram[bin])
        {
            bin++;
        }

        int nextPage = LoudnessHistogram.PageOf(bin) + 1;
        double sum = 0;
        for (int i = bin; i < nextPage * LoudnessHistogram.BinsPerPage; i++)
        {
            sum += energies[i];
        }

        for (int page = nextPage; page < LoudnessHistogram.Pages; page++)
        {
            sum += pageEnergies[page];
        }

        return sum / histogram.CountFrom(bin);
    }
}
