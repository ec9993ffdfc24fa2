namespace LiveStems.Analysis.Trouble;

/// <summary>A band that stands out for a while.</summary>
/// <param name="Band">Middle on the grid, between bands where the peak lies so.</param>
/// <param name="SurplusDb">Mean height above the trend while it lasts.</param>
/// <param name="WidthCam">Width at half of the height, Cam.</param>
/// <param name="Rows">First and last rows of its stretches.</param>
internal sealed record PeakFound(double Band, double SurplusDb, double WidthCam, IReadOnlyList<(int First, int Last)> Rows);

/// <summary>Finds bands that stand above the trend for seconds on end.</summary>
internal sealed class PersistentPeaks(ContrastTable contrast, bool[] active, double rowSeconds, int firstBand, int endBand, double shortestSeconds)
{
    private const double LongestGapSeconds = 1.2;
    private const double EntryShare = 0.6;
    private const double ApartCam = 1.5;
    private const double EdgeShare = 0.5;
    private const double FullHeightShare = 0.75;

    /// <summary>Peaks whose mean height reaches the threshold of their band, the weightiest first.</summary>
    /// <param name="thresholdDb">Least height by band.</param>
    public List<PeakFound> Find(Func<int, double> thresholdDb)
    {
        List<(double Weight, int Band, List<(int First, int Last)> Runs, double Mean)> candidates = [];
        for (int band = firstBand; band < endBand; band++)
        {
            double threshold = thresholdDb(band);
            List<(int First, int Last)> runs = [.. Runs(band, threshold * EntryShare).Where(run => Mean(band, run) >= threshold)];
            if (runs.Count > 0)
            {
                double weight = runs.Sum(run => Mean(band, run) * ActiveRows(run));
                candidates.Add((weight, band, runs, weight / runs.Sum(ActiveRows)));
            }
        }

        List<PeakFound> found = [];
        List<(int Band, List<(int First, int Last)> Runs)> taken = [];
        foreach ((double _, int band, List<(int First, int Last)> runs, double _) in candidates.OrderByDescending(each => each.Weight))
        {
            List<(int First, int Last)> free = [.. runs.Where(run => !taken.Exists(other =>
                Math.Abs(other.Band - band) * TroubleGrid.StepCam < ApartCam && other.Runs.Exists(of => Overlaps(of, run))))];
            if (free.Count == 0 || !IsHighest(band, free))
            {
                continue;
            }

            taken.Add((band, free));
            found.Add(Describe(band, free));
        }

        return found;
    }

    private static bool Overlaps((int First, int Last) one, (int First, int Last) other) => one.First <= other.Last && other.First <= one.Last;

    private List<(int First, int Last)> Runs(int band, double entryDb) =>
        [.. Stretches(band, entryDb, 0, contrast.Rows.Length - 1).Where(run => (run.Last - run.First + 1) * rowSeconds >= shortestSeconds)];

    private IEnumerable<(int First, int Last)> Stretches(int band, double entryDb, int from, int to) =>
        BridgedRuns.Of(from, to + 1, active, row => contrast.Rows[row][band] >= entryDb, (int)(LongestGapSeconds / rowSeconds));

    private int ActiveRows((int First, int Last) run)
    {
        int count = 0;
        for (int row = run.First; row <= run.Last; row++)
        {
            count += active[row] ? 1 : 0;
        }

        return count;
    }

    private double Mean(int band, (int First, int Last) run)
    {
        double sum = 0;
        int count = 0;
        for (int row = run.First; row <= run.Last; row++)
        {
            if (active[row])
            {
                sum += contrast.Rows[row][band];
                count++;
            }
        }

        return count == 0 ? 0 : sum / count;
    }

    private double Mean(int band, List<(int First, int Last)> runs) => runs.Sum(run => Mean(band, run) * ActiveRows(run)) / runs.Sum(ActiveRows);

    private bool IsHighest(int band, List<(int First, int Last)> runs)
    {
        double own = Mean(band, runs);
        return own >= Mean(Math.Max(0, band - 1), runs) && own >= Mean(Math.Min(contrast.Rows[0].Length - 1, band + 1), runs);
    }

    private PeakFound Describe(int band, List<(int First, int Last)> runs)
    {
        double peak = Mean(band, runs);
        int low = band;
        int high = band;
        double sum = 0;
        double moment = 0;
        while (low > 0 && Mean(low - 1, runs) > peak / 2)
        {
            low--;
        }

        while (high < contrast.Rows[0].Length - 1 && Mean(high + 1, runs) > peak / 2)
        {
            high++;
        }

        // The middle of what stands above half of the height, as the ear would place it, rather than the single highest band.
        for (int at = Math.Max(low, band - 3); at <= Math.Min(high, band + 3); at++)
        {
            double weight = Mean(at, runs) - peak / 2;
            sum += weight;
            moment += weight * at;
        }

        return new PeakFound(moment / sum, peak, (high - low + 1) * TroubleGrid.StepCam, Sharpened(band, runs));
    }

    // A stretch begins and ends at half of its full height, which it has most of the time; what was far below that is no part of it.
    private List<(int First, int Last)> Sharpened(int band, List<(int First, int Last)> runs)
    {
        List<(int First, int Last)> sharp = [];
        foreach ((int first, int last) in runs)
        {
            double[] heights = [.. Enumerable.Range(first, last - first + 1).Where(row => active[row]).Select(row => contrast.Rows[row][band]).Order()];
            sharp.AddRange(Stretches(band, EdgeShare * heights[(int)(FullHeightShare * (heights.Length - 1))], first, last));
        }

        return sharp;
    }
}
