namespace LiveStems.Analysis.Trouble;

/// <summary>How far each band stands above the trend of its surroundings, over time.</summary>
/// <remarks>Levels are averaged over some rows before the trend is taken: noise evens out, a ring stays.</remarks>
internal sealed class ContrastTable
{
    private ContrastTable(double[][] rows) => Rows = rows;

    /// <summary>dB above the trend, by row and band.</summary>
    public double[][] Rows { get; }

    public static ContrastTable Of(TimeTable levels, int bands, bool[] active, int reachRows)
    {
        BandTrend trendOf = new(bands);
        double[] mean = new double[bands];
        double[] trend = new double[bands];
        double[][] rows = new double[levels.Rows][];
        for (int row = 0; row < levels.Rows; row++)
        {
            rows[row] = new double[bands];
            if (!active[row])
            {
                continue;
            }

            Average(levels, active, row, reachRows, mean);
            trendOf.Compute(mean, trend);
            for (int band = 0; band < bands; band++)
            {
                rows[row][band] = mean[band] - trend[band];
            }
        }

        return new ContrastTable(rows);
    }

    /// <summary>How far a lower level lies below an upper one, dB, by row and band, both averaged over some rows.</summary>
    public static double[][] Depth(TimeTable upper, TimeTable lower, int bands, bool[] active, int reachRows)
    {
        double[] above = new double[bands];
        double[] below = new double[bands];
        double[][] rows = new double[upper.Rows][];
        for (int row = 0; row < rows.Length; row++)
        {
            rows[row] = new double[bands];
            if (active[row])
            {
                Average(upper, active, row, reachRows, above);
                Average(lower, active, row, reachRows, below);
                for (int band = 0; band < bands; band++)
                {
                    rows[row][band] = above[band] - below[band];
                }
            }
        }

        return rows;
    }

    /// <summary>The same with 0 wherever a value of another table is above the limit of its band.</summary>
    public ContrastTable WhereAtMost(double[][] other, Func<int, double> limit) =>
        new([.. Rows.Select((row, at) => row.Select((height, band) => other[at][band] <= limit(band) ? height : 0).ToArray())]);

    private static void Average(TimeTable levels, bool[] active, int row, int reach, double[] mean)
    {
        Array.Clear(mean);
        int count = 0;
        for (int other = Math.Max(0, row - reach); other <= Math.Min(levels.Rows - 1, row + reach); other++)
        {
            if (!active[other])
            {
                continue;
            }

            ReadOnlySpan<float> values = levels.Row(other);
            for (int band = 0; band < mean.Length; band++)
            {
                mean[band] += values[band];
            }

            count++;
        }

        for (int band = 0; band < mean.Length; band++)
        {
            mean[band] /= count;
        }
    }
}
