namespace LiveStems.Analysis.Spectra;

/// <summary>Mean, maximum and percentiles of one band's power over time.</summary>
internal sealed class BandStatistics
{
    // The "fast" time constant of sound level meters (IEC 61672-1), as a plain average.
    private const double SlotSeconds = 0.125;

    private readonly LevelHistogram histogram = new();
    private readonly double sampleRate;
    private double sum;
    private double slotSum;
    private int slotFrames;
    private double maximum;

    public BandStatistics(int sampleRate) => this.sampleRate = sampleRate;

    /// <summary>Takes the band's power in one frame.</summary>
    public void Add(double power, int hopFrames, bool isWhole)
    {
        sum += power * hopFrames;
        if (isWhole)
        {
            slotSum += power;
            slotFrames++;
            if (slotFrames * hopFrames >= SlotSeconds * sampleRate)
            {
                double mean = slotSum / slotFrames;
                histogram.Add(LevelHistogram.ToDbfs(mean));
                maximum = Math.Max(maximum, mean);
                slotSum = 0;
                slotFrames = 0;
            }
        }
    }

    /// <summary>The readings, for a number of samples in all.</summary>
    public BandLevel Read(OctaveBand band, long frames, double? crestDb)
    {
        double mean = LevelHistogram.ToDbfs(frames == 0 ? 0 : sum / frames);
        return new BandLevel(
            band,
            mean,
            histogram.Count == 0 ? mean : LevelHistogram.ToDbfs(maximum),
            histogram.Percentile(0.10),
            histogram.Percentile(0.50),
            histogram.Percentile(0.90),
            histogram.Percentile(0.99),
            crestDb);
    }
}
