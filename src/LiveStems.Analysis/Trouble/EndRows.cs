namespace LiveStems.Analysis.Trouble;

/// <summary>Means, medians and stretches over the rows of <see cref="EndBands"/> in which a stem sounds.</summary>
internal sealed class EndRows
{
    private readonly EndBands bands;
    private readonly double seconds;

    public EndRows(EndBands bands, double seconds)
    {
        this.bands = bands;
        this.seconds = seconds;
        double[] levels = [.. Enumerable.Range(0, bands.Levels.Rows).Select(row => (double)bands.Levels.Row(row)[EndBands.Music])];
        double loud = levels.Length == 0 ? SlowBands.SilenceDb : Percentile(levels, 0.95);
        Active = [.. levels.Select(level => level > loud - StemRows.SilenceBelowLoudDb && level > -110)];
        ActiveCount = Active.Count(active => active);
    }

    public bool[] Active { get; }

    public int ActiveCount { get; }

    public float Level(int row, int range) => bands.Levels.Row(row)[range];

    /// <summary>Level of the mean power of a range, dB, over all rows or those in which the stem sounds.</summary>
    public double MeanDb(int range, bool sounding = true) => MeanDb(range, row => !sounding || Active[row]);

    public double MeanDb(int range, Func<int, bool> counts)
    {
        double sum = 0;
        int count = 0;
        for (int row = 0; row < Active.Length; row++)
        {
            if (counts(row))
            {
                sum += Math.Pow(10, Level(row, range) / 10.0);
                count++;
            }
        }

        return count == 0 ? SlowBands.SilenceDb : 10 * Math.Log10(sum / count + 1e-16);
    }

    /// <summary>Rows to stretches of time; gaps shorter than so many seconds are closed.</summary>
    public IEnumerable<TimeRange> Stretches(Func<int, bool> holds, double longestGapSeconds)
    {
        double first = -1;
        double last = -1;
        double half = bands.Levels.RowSeconds / 2;
        for (int row = 0; row < Active.Length; row++)
        {
            if (!holds(row))
            {
                continue;
            }

            double at = bands.FirstRowSeconds + row * bands.Levels.RowSeconds;
            if (first >= 0 && at - last > longestGapSeconds + 2 * half)
            {
                yield return Clipped(first - half, last + half);
                first = -1;
            }

            first = first < 0 ? Math.Max(0, at) : first;
            last = at;
        }

        if (first >= 0)
        {
            yield return Clipped(first - half, last + half);
        }
    }

    public static double Percentile(IEnumerable<double> values, double share)
    {
        double[] sorted = [.. values.Order()];
        return sorted.Length == 0 ? double.NaN : sorted[(int)(share * (sorted.Length - 1))];
    }

    private TimeRange Clipped(double start, double end) => new(Math.Clamp(start, 0, seconds), Math.Clamp(end, 0, seconds));
}
