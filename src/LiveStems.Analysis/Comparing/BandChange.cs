using LiveStems.Dsp;

namespace LiveStems.Analysis.Comparing;

/// <summary>A stretch of a song in which neighbouring bands became stronger or weaker.</summary>
/// <param name="StartSeconds">Where it starts.</param>
/// <param name="EndSeconds">Where it ends.</param>
/// <param name="LowestHz">Lower edge of the lowest band.</param>
/// <param name="HighestHz">Upper edge of the highest band.</param>
/// <param name="MeanDb">By how much, on average; above 0 is stronger.</param>
/// <param name="IsThroughout">True when it is so nearly all the time.</param>
public sealed record BandChange(double StartSeconds, double EndSeconds, double LowestHz, double HighestHz, double MeanDb, bool IsThroughout)
{
    // Half a decibel in an octave is what careful listeners begin to hear (common practice).
    private const double SmallestDb = 0.5;
    private const double DepthDb = 60;
    private const double ThroughoutShare = 0.9;
    private const int LongestPause = 1;

    /// <summary>The changes, the largest first.</summary>
    internal static IReadOnlyList<BandChange> Between(BandCells before, BandCells after)
    {
        double strongest = Enumerable.Range(0, before.Bands.Length).Max(band => Math.Max(Most(before, band), Most(after, band)));
        List<Run> runs = [];
        for (int band = 0; band < Math.Min(before.Bands.Length, after.Bands.Length); band++)
        {
            runs.AddRange(Runs(band, before.Of(band), after.Of(band), strongest * Decibels.ToPower(-DepthDb)));
        }

        return [.. Merged(runs).Select(run => run.ToChange(before)).OrderByDescending(change => Math.Abs(change.MeanDb) * Math.Sqrt(change.EndSeconds - change.StartSeconds))];
    }

    private static double Most(BandCells cells, int band) => cells.Of(band).DefaultIfEmpty(0).Max();

    private static IEnumerable<Run> Runs(int band, IReadOnlyList<double> before, IReadOnlyList<double> after, double floor)
    {
        int count = Math.Min(before.Count, after.Count);
        int sounding = Enumerable.Range(0, count).Count(cell => Math.Max(before[cell], after[cell]) > floor);
        Run? run = null;
        for (int cell = 0; cell < count; cell++)
        {
            if (Math.Max(before[cell], after[cell]) <= floor)
            {
                continue;
            }

            double change = Decibels.FromPower(Math.Max(after[cell], floor) / Math.Max(before[cell], floor));
            if (Math.Abs(change) < SmallestDb)
            {
                continue;
            }

            if (run is not null && (cell - run.Last > LongestPause + 1 || Math.Sign(change) != Math.Sign(run.SumDb)))
            {
                yield return run;
                run = null;
            }

            run = run is null
                ? new Run(band, band, cell, cell, change, 1, sounding)
                : run with { Last = cell, SumDb = run.SumDb + change, Cells = run.Cells + 1 };
        }

        if (run is not null)
        {
            yield return run;
        }
    }

    // Neighbouring bands that changed alike at the same time are one change.
    private static List<Run> Merged(List<Run> runs)
    {
        List<Run> merged = [];
        foreach (Run run in runs.OrderBy(run => run.LowestBand).ThenBy(run => run.First))
        {
            int partner = merged.FindIndex(other => other.HighestBand == run.LowestBand - 1 && other.IsLike(run));
            if (partner < 0)
            {
                merged.Add(run);
            }
            else
            {
                merged[partner] = merged[partner].With(run);
            }
        }

        return merged;
    }

    private sealed record Run(int LowestBand, int HighestBand, int First, int Last, double SumDb, int Cells, int Sounding)
    {
        private const double LikeDb = 0.75;

        private double MeanDb => SumDb / Cells;

        public bool IsLike(Run other)
        {
            int shared = Math.Min(Last, other.Last) - Math.Max(First, other.First) + 1;
            int longest = Math.Max(Last - First, other.Last - other.First) + 1;
            return shared * 3 >= longest * 2 && Math.Sign(SumDb) == Math.Sign(other.SumDb) && Math.Abs(MeanDb - other.MeanDb) < Math.Max(LikeDb, Math.Abs(MeanDb) / 2);
        }

        public Run With(Run other) => new(
            LowestBand, other.HighestBand, Math.Min(First, other.First), Math.Max(Last, other.Last), SumDb + other.SumDb, Cells + other.Cells, Sounding + other.Sounding);

        public BandChange ToChange(BandCells cells) => new(
            First * BandCells.CellSeconds,
            (Last + 1) * BandCells.CellSeconds,
            cells.Bands[LowestBand].LowerHz,
            cells.Bands[HighestBand].UpperHz,
            MeanDb,
            Cells >= ThroughoutShare * Sounding);
    }
}
