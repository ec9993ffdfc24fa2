using System.Collections.Immutable;

namespace LiveStems.Analysis.Trouble;

/// <summary>
/// Useless content at both ends of the spectrum: low-frequency noise that is louder, octave for octave, than the music above it,
/// and hiss that rises where an instrument's partials have ended.
/// </summary>
internal sealed class EndsFinder(EndRows rows, EndBands bands, PeakMeters peaks, TroubleSettings settings)
{
    // Music falls towards both ends; by how much the outer range stands above the inner one before it is no music, dB: at the
    // low end octave for octave, as pink noise is even, at the high end hertz for hertz.
    private const double LowRisePerOctaveDb = 3;
    private const double HighRisePerHzDb = 3;
    private const double LowBelowMusicDb = 32;
    private const double QuietestDb = -95;
    private const double EventDb = 15;
    private const int FewestThumps = 8;
    private const double ThumpsApartSeconds = 0.2;
    private const double ThumpRiseDb = 6;
    private const double LongestGapSeconds = 1.5;

    public IEnumerable<TroubleFinding> Find()
    {
        double below = rows.MeanDb(EndBands.Below, sounding: false);
        double lowest = rows.MeanDb(EndBands.Lowest, sounding: false);
        double music = rows.MeanDb(EndBands.Music);
        double rise = below - bands.OctavesDb(EndBands.Below) - FloorOfMusicDb(lowest);
        if (rise > LowRisePerOctaveDb && below > music - LowBelowMusicDb)
        {
            yield return Low(below, rise, row => rows.Level(row, EndBands.Below) > below - EventDb);
        }
        else if (settings.Role is Albums.Model.StemRole.Guitar && rows.Stretches(row => IsThump(row, music), ThumpsApartSeconds).Count() >= FewestThumps)
        {
            // A foot on the floor: too seldom to be found by the mean.
            double height = EndRows.Percentile(Enumerable.Range(0, rows.Active.Length).Where(row => IsThump(row, music)).Select(RiseOf), 0.5);
            yield return Low(rows.MeanDb(EndBands.Below, row => IsThump(row, music)), height, row => IsThump(row, music));
        }

        double high = rows.MeanDb(EndBands.High, sounding: false) + EndBands.PerHzDb(EndBands.High);
        double topLevel = rows.MeanDb(EndBands.Top, sounding: false);
        double top = topLevel + EndBands.PerHzDb(EndBands.Top);
        if (bands.HasTop && topLevel > QuietestDb && top > high + HighRisePerHzDb)
        {
            yield return High(topLevel, top - high);
        }
    }

    private bool IsThump(int row, double music) => RiseOf(row) > ThumpRiseDb && rows.Level(row, EndBands.Below) > music - LowBelowMusicDb;

    private double RiseOf(int row) => rows.Level(row, EndBands.Below) - bands.OctavesDb(EndBands.Below) - Math.Min(
        rows.Level(row, EndBands.Lowest) - bands.OctavesDb(EndBands.Lowest), rows.Level(row, EndBands.AboveLowest) - bands.OctavesDb(EndBands.AboveLowest));

    // What rumbles reaches across 40 Hz: where the instrument has nothing down there, the range above that tells better.
    private double FloorOfMusicDb(double lowest)
    {
        double first = lowest - bands.OctavesDb(EndBands.Lowest);
        return settings.Role is Albums.Model.StemRole.Bass or Albums.Model.StemRole.Drums
            ? first
            : Math.Min(first, rows.MeanDb(EndBands.AboveLowest, sounding: false) - bands.OctavesDb(EndBands.AboveLowest));
    }

    private TroubleFinding Low(double level, double surplus, Func<int, bool> sounds)
    {
        (double lowHz, double highHz) = EndBands.Ranges[EndBands.Below];
        ImmutableArray<TimeRange> when = [.. rows.Stretches(sounds, LongestGapSeconds)];
        double centre = Math.Sqrt(15 * highHz);
        double corner = settings.Role is Albums.Model.StemRole.Bass or Albums.Model.StemRole.Drums ? 30 : 45;
        return Finding(
            TroubleKind.Rumble,
            when,
            centre,
            Math.Log2(highHz / 15),
            surplus,
            level,
            peaks.HeadroomOfLowCutDb,
            CorrectionAdvice.HighPass(corner, "cuts what lies below the instrument"));
    }

    private TroubleFinding High(double level, double surplus)
    {
        (double lowHz, double highHz) = EndBands.Ranges[EndBands.Top];
        ImmutableArray<TimeRange> when = [.. rows.Stretches(row => rows.Level(row, EndBands.Top) > level - EventDb, LongestGapSeconds)];
        return Finding(
            TroubleKind.Hiss,
            when,
            Math.Sqrt(lowHz * highHz),
            Math.Log2(highHz / lowHz),
            surplus,
            level,
            peaks.HeadroomOfHighCutDb,
            CorrectionAdvice.LowPass(15_000, "cuts the hiss above the instrument"));
    }

    private TroubleFinding Finding(
        TroubleKind kind, ImmutableArray<TimeRange> when, double centre, double width, double surplus, double level, double headroom, SuggestedCorrection correction)
    {
        double share = Math.Min(1, when.Sum(range => range.Seconds) / Math.Max(1e-9, peaks.Seconds));
        return new TroubleFinding(
            kind,
            share > 0.7 ? Occurrence.Steady : Occurrence.EventBound,
            centre,
            width,
            surplus,
            Piercing.Sone(settings.SplOf(level), surplus, centre),
            share,
            when,
            headroom,
            correction);
    }
}
