namespace LiveStems.Analysis.Trouble;

/// <summary>When a band stands out, to a fraction of a second.</summary>
internal sealed class SurplusTimes(SurplusWindows windows, StemRows rows)
{
    private const double HeardDb = 2;
    private const double EdgeShare = 0.5;
    private const double LeastOutsideSeconds = 5;

    // Half of what a row and its neighbours reach over: frames of 0.68 s, half of which count, and five of them.
    private const double BlurSeconds = 0.34;
    private const double HalfPowerDb = 3;
    private const double FullHeightShare = 0.2;
    private const double SmoothingSeconds = 0.85;
    private const double LongestGapSeconds = 1.7;
    private const double ShortestSeconds = 1;

    /// <summary>The stretches of rows.</summary>
    public List<(int First, int Last)> Of(Candidate candidate)
    {
        (int band, List<int> standing) = (candidate.Band, candidate.Windows);
        bool isEased = candidate.SurplusOf == windows.EasedSurplusDb;
        bool[] near = new bool[windows.Power.Length];
        for (int window = 0; window < windows.Count; window++)
        {
            if (windows.Sounds[window] && candidate.SurplusOf[window][band] > SurplusFinder.EntryDb)
            {
                near.AsSpan(window * windows.Hop, windows.Rows).Fill(true);
            }
        }

        double[] surplus = SurplusOf(band, isEased);
        List<(int First, int Last)> stretches = Alike(Stretches(row => near[row] && surplus[row] >= HeardDb), surplus, band, isEased);
        return stretches.Count > 0 ? stretches : [(standing[0] * windows.Hop, standing[^1] * windows.Hop + windows.Rows - 1)];
    }

    private double[] SurplusOf(int band, bool isEased) => [.. rows.Active.Select((isActive, row) => isActive ? SurplusAt(row, band, isEased) : double.NegativeInfinity)];

    // A stretch in which the band stands lower is the resonance, or a note that lies there: it counts where it is nearer to the full
    // height than to the octaves that come with it, and to the trend.
    private List<(int First, int Last)> Alike(List<(int First, int Last)> stretches, double[] surplus, int band, bool isEased)
    {
        if (stretches.Count == 0)
        {
            return stretches;
        }

        Dictionary<int, double[]> surplusOf = new() { [band] = surplus };
        int[] outside = [.. Enumerable.Range(0, surplus.Length).Where(row => rows.Active[row] && !stretches.Exists(stretch => stretch.First <= row && row <= stretch.Last))];
        bool canTell = outside.Length * rows.RowSeconds >= LeastOutsideSeconds;
        double full = FullHeight([.. stretches.Select(stretch => (Height(stretch, band), stretch.Last - stretch.First + 1))]);
        return [.. stretches.Where(IsAlike).Select(stretch => Trimmed(stretch, surplus, EdgeShare * Height(stretch, band)))];

        bool IsAlike((int First, int Last) stretch)
        {
            double height = Height(stretch, band);
            return height >= full || full - height <= height - Math.Max(0, OctaveRule.HighestDb(
                band, windows.StemDb.Length, at => Height(stretch, at), canTell ? at => Mean(outside.Select(row => Surplus(at)[row])) : null));
        }

        double Height((int First, int Last) stretch, int at) => Mean(Surplus(at)[stretch.First..(stretch.Last + 1)].Where(double.IsFinite));

        double[] Surplus(int at)
        {
            if (!surplusOf.TryGetValue(at, out double[]? known))
            {
                surplusOf[at] = known = SurplusOf(at, isEased);
            }

            return known;
        }
    }

    // The height that the highest fifth of the time reaches: one short stretch says little.
    private static double FullHeight((double Height, int Rows)[] stretches)
    {
        int left = (int)(FullHeightShare * stretches.Sum(stretch => stretch.Rows));
        foreach ((double height, int count) in stretches.OrderByDescending(stretch => stretch.Height))
        {
            left -= count;
            if (left < 0)
            {
                return height;
            }
        }

        return stretches.Max(stretch => stretch.Height);
    }

    private (int First, int Last) Trimmed((int First, int Last) stretch, double[] surplus, double edge)
    {
        (int first, int last) = stretch;
        while (first < last && surplus[first] < edge)
        {
            first++;
        }

        while (last > first && surplus[last] < edge)
        {
            last--;
        }

        // What is averaged over reaches beyond a step: there the power has fallen to half.
        int blur = (int)Math.Round(BlurSeconds / rows.RowSeconds);
        for (int more = 0; more < blur && last - first > 2 * blur; more++)
        {
            first += surplus[first] < 2 * edge - HalfPowerDb ? 1 : 0;
            last -= surplus[last] < 2 * edge - HalfPowerDb ? 1 : 0;
        }

        return (first, last);
    }

    private static double Mean(IEnumerable<double> levelsDb) => 10 * Math.Log10(levelsDb.Average(level => Math.Pow(10, level / 10)));

    private List<(int First, int Last)> Stretches(Predicate<int> holds)
    {
        int longestGap = (int)Math.Round(LongestGapSeconds / rows.RowSeconds);
        int shortest = (int)Math.Round(ShortestSeconds / rows.RowSeconds);
        return [.. BridgedRuns.Of(0, windows.Power.Length, rows.Active, holds, longestGap).Where(stretch => stretch.Last - stretch.First + 1 >= shortest)];
    }

    // The band and its two neighbours, since what excites a resonance need not lie in its middle.
    private double SurplusAt(int row, int band, bool isEased)
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

        double trend = PeakTrend.At(level, PeakTrend.FarthestBand);
        trend = Math.Max(trend, windows.StemTrendDb(band, first, end) - (isEased ? SurplusWindows.EaseDb : 0));
        return 10 * Math.Log10(own / (end - first) + 1e-20) - trend;
    }
}
