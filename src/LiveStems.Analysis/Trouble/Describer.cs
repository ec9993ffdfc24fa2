using System.Collections.Immutable;
using LiveStems.Analysis.Hearing;

namespace LiveStems.Analysis.Trouble;

/// <summary>Turns what was found on the grid into findings in Hz, seconds, decibels and sone.</summary>
internal sealed class Describer(SlowBands bands, StemRows rows, TroubleSettings settings)
{
    // From here on a finding counts as steady.
    private const double SteadyShare = 0.7;

    public TroubleFinding Resonance(RingFound ring) => Peak(TroubleKind.Resonance, ring.Peak, ring.PowerDb, Math.Max(ring.Peak.WidthCam, 0.5));

    public TroubleFinding Peak(TroubleKind kind, PeakFound peak, double powerPerBinDb, double widthCam)
    {
        double centre = TroubleGrid.Hz(peak.Band);
        double cam = TroubleGrid.Cam(peak.Band);
        double width = Math.Log2(CamScale.ToHz(cam + widthCam / 2) / CamScale.ToHz(Math.Max(0.1, cam - widthCam / 2)));
        ImmutableArray<TimeRange> ranges = [.. peak.Rows.Select(run => rows.Range(run.First, run.Last)).OrderBy(range => range.StartSeconds)];
        double share = ShareOf(peak.Rows);
        Occurrence occurrence = share >= SteadyShare ? Occurrence.Steady : Occurrence.EventBound;
        int band = (int)Math.Round(peak.Band);
        double bandDb = powerPerBinDb + 10 * Math.Log10(bands.Grid.EndBin[band] - bands.Grid.FirstBin[band]);
        SuggestedCorrection correction = occurrence == Occurrence.Steady
            ? CorrectionAdvice.Bell(centre, width, peak.SurplusDb, "takes the resonance down by its surplus, always")
            : CorrectionAdvice.Suppressor(centre, width, peak.SurplusDb, "takes the resonance down while it rings");
        return new TroubleFinding(
            kind, occurrence, centre, width, peak.SurplusDb, Piercing.Sone(settings.SplOf(bandDb), peak.SurplusDb, centre), share, ranges, 0, correction);
    }

    public double ShareOf(IEnumerable<(int First, int Last)> runs)
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
