using LiveStems.Dsp;

namespace LiveStems.Analysis.Spectra;

/// <summary>
/// Counts levels in steps of 0.1 dB from −180 to +30 dBFS, so that percentiles of hours of sound cost no more memory than
/// those of a second. Readings are within 0.05 dB of those of the sorted levels.
/// </summary>
public sealed class LevelHistogram
{
    private const double LowestDb = -180;
    private const double StepDb = 0.1;
    private const int Steps = 2100;

    // Place 0 is for what is below the lowest level, silence above all.
    private readonly int[] counts = new int[Steps + 1];

    /// <summary>Levels counted.</summary>
    public long Count { get; private set; }

    /// <summary>Counts a level in dBFS; −∞ is silence.</summary>
    public void Add(double level)
    {
        counts[level < LowestDb ? 0 : (int)Math.Min((level - LowestDb) / StepDb + 1, Steps)]++;
        Count++;
    }

    /// <summary>
    /// The level that a share of the levels lies at or below; −∞ for silence, NaN when nothing was counted.
    /// </summary>
    /// <param name="share">0 to 1: 0.9 for the 90th percentile.</param>
    public double Percentile(double share)
    {
        if (Count == 0)
        {
            return double.NaN;
        }

        long rank = Math.Max((long)Math.Ceiling(share * Count), 1);
        int place = 0;
        while ((rank -= counts[place]) > 0)
        {
            place++;
        }

        return place == 0 ? double.NegativeInfinity : LowestDb + (place - 0.5) * StepDb;
    }

    /// <summary>Forgets every level.</summary>
    public void Reset()
    {
        Array.Clear(counts);
        Count = 0;
    }

    /// <summary>A mean square as a level by AES17: a sine of full scale reads 0 dBFS.</summary>
    public static double ToDbfs(double meanSquare) => Decibels.FromPower(2 * meanSquare);
}
