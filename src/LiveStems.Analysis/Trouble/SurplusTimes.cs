namespace LiveStems.Analysis.Trouble;

/// <summary>When a band stands out, to a fraction of a second.</summary>
internal sealed class SurplusTimes(SurplusWindows windows, StemRows rows)
{
    private const double HeardDb = 2;
    private const double SmoothingSeconds = 0.85;
    private const double LongestGapSeconds = 1.7;
    private const double ShortestSeconds = 1;

    /// <summary>The stretches of rows.</summary>
    public List<(int First, int Last)> Of(int band, List<int> standing)
    {
        bool[] near = new bool[windows.Power.Length];
        for (int window = 0; window < windows.Count; window++)
        {
            if (windows.Sounds[window] && windows.SurplusDb[window][band] > SurplusFinder.EntryDb)
            {
                near.AsSpan(window * windows.Hop, windows.Rows).Fill(true);
            }
        }

        List<(int First, int Last)> stretches = Stretches(row => near[row] && SurplusAt(row, band) >= HeardDb);
        return stretches.Count > 0 ? stretches : [(standing[0] * windows.Hop, standing[^1] * windows.Hop + windows.Rows - 1)];
    }

    private List<(int First, int Last)> Stretches(Predicate<int> holds)
    {
        int longestGap = (int)Math.Round(LongestGapSeconds / rows.RowSeconds);
        int shortest = (int)Math.Round(ShortestSeconds / rows.RowSeconds);
        List<(int First, int Last)> stretches = [];
        int first = -1;
        int last = -1;
        int gap = 0;
        for (int row = 0; row < windows.Power.Length; row++)
        {
            if (!rows.Active[row])
            {
                // A rest says nothing: what rang before it may ring behind it.
                continue;
            }

            if (holds(row))
            {
                first = first < 0 ? row : first;
                last = row;
                gap = 0;
            }
            else if (first >= 0 && ++gap > longestGap)
            {
                stretches.Add((first, last));
                first = -1;
                gap = 0;
            }
        }

        if (first >= 0)
        {
            stretches.Add((first, last));
        }

        return [.. stretches.Where(stretch => stretch.Last - stretch.First + 1 >= shortest)];
    }

    // The band and its two neighbours, since what excites a resonance need not lie in its middle.
    private double SurplusAt(int row, int band)
    {
        int reach = Math.Max(0, (int)Math.Round((SmoothingSeconds / rows.RowSeconds - 1) / 2));
        int first = Math.Max(0, row - reach);
        int end = Math.Min(windows.Power.Length, row + reach + 1);
        Span<double> level = stackalloc double[2 * PeakTrend.FarthestBand + 1];
        double own = 0;
        int lowest = band - PeakTrend.FarthestBand;
        for (int at = 0; at < level.Length; at++)
        {
            double sum = 0;
            for (int other = first; other < end; other++)
            {
                sum += windows.Power[other][Math.Clamp(lowest + at, 0, windows.StemDb.Length - 1)];
            }

            level[at] = 10 * Math.Log10(sum / (end - first) + 1e-20);
        }

        for (int other = first; other < end; other++)
        {
            own += Math.Max(windows.Power[other][band], Math.Max(windows.Power[other][Math.Max(0, band - 1)], windows.Power[other][Math.Min(band + 1, windows.StemDb.Length - 1)]));
        }

        double trend = Math.Max(PeakTrend.At(level, PeakTrend.FarthestBand), windows.StemTrendDb(band, first, end));
        return 10 * Math.Log10(own / (end - first) + 1e-20) - trend;
    }
}
