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
