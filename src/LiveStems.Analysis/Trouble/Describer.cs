using System.Collections.Immutable;
using LiveStems.Analysis.Hearing;

namespace LiveStems.Analysis.Trouble;

/// <summary>Turns what was found on the grid into findings in Hz, seconds, decibels and sone.</summary>
internal sealed class Describer(SlowBands bands, StemRows rows, TroubleSettings settings)
{
    // From here on a finding counts as steady.
    private const double SteadyShare = 0.7;

    public TroubleFinding Resonance(SurplusFound found) =>
        Lasting(TroubleKind.Resonance, found.CentreHz, found.WidthOctaves, found.SurplusDb, found.LevelDb, found.Rows);

    public TroubleFinding Tone(PeakFound peak, double lineDb, double widthCam)
    {
        double cam = TroubleGrid.Cam(peak.Band);
        double width = Math.Log2(CamScale.ToHz(cam + widthCam / 2) / CamScale.ToHz(Math.Max(0.1, cam - widthCam / 2)));
        int band = (int)Math.Round(peak.Band);
        double bandDb = lineDb + 10 * Math.Log10(bands.Grid.EndBin[band] - bands.Grid.FirstBin[band]);
        return Lasting(TroubleKind.RingingTone, TroubleGrid.Hz(peak.Band), width, peak.SurplusDb, bandDb, peak.Rows);
    }

    private TroubleFinding Lasting(
        TroubleKind kind, double centre, double width, double surplus, double levelDb, IReadOnlyList<(int First, int Last)> stretches)
    {
        ImmutableArray<TimeRange> ranges = [.. stretches.Select(run => rows.Range(run.First, run.Last)).OrderBy(range => range.StartSeconds)];
        double share = ShareOf(stretches);
        Occurrence occurrence = share >= SteadyShare ? Occurrence.Steady : Occurrence.EventBound;
        SuggestedCorrection correction = occurrence == Occurrence.Steady
            ? CorrectionAdvice.Bell(centre, width, surplus, "takes the resonance down by its surplus, always")
            : CorrectionAdvice.Suppressor(centre, width, surplus, "takes the resonance down while it rings");
        return new TroubleFinding(
            kind, occurrence, centre, width, surplus, Piercing.Sone(settings.SplOf(levelDb), surplus, centre), share, ranges, 0, correction);
    }

    private double ShareOf(IEnumerable<(int First, int Last)> runs)
    {
        int count = 0;
        foreach ((int first, int last) in runs)
        {
            for (int row = first; row <= last; row++)
            {
                count += rows.Active[row] ? 1 : 0;
            }
        }

        return rows.ActiveCount == 0 ? 0 : (double)count / rows.ActiveCount;
    }
}
