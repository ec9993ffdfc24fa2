using System.Collections.Immutable;
using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Trouble;

/// <summary>Broad ranges that stand out: glare in the upper middle, and mud where low notes are thick.</summary>
internal sealed class BroadFinder(EndRows rows, TroubleSettings settings, double rowSeconds)
{
    /// <summary>How far the presence range may stand above its neighbours, per Hz, on the line between them, dB.</summary>
    public const double GlareDb = 8.5;

    /// <summary>How far the low middle of a voice may stand above what makes it clear, per Hz, dB.</summary>
    public const double MudDb = 18;

    private const double LeastSeconds = 2;
    private const double LeastGlareShare = 0.3;
    private const double LeastMudShare = 0.1;
    private const double LongestGapSeconds = 1.5;
    private const double HearableBelowMusicDb = 35;

    public IEnumerable<TroubleFinding> Find()
    {
        if (settings.Role is not (StemRole.LeadVocal or StemRole.BackingVocal)
            && Broad(TroubleKind.Glare, GlareOf, GlareDb, EndBands.Presence, CorrectionAdvice.Bell) is { } glare)
        {
            yield return glare;
        }

        if (settings.Role is StemRole.LeadVocal && Broad(TroubleKind.Mud, MudOf, MudDb, EndBands.Thick, CorrectionAdvice.DynamicBell) is { } mud)
        {
            yield return mud with { Occurrence = Occurrence.NoteFollowing };
        }
    }

    private double GlareOf(int row) => rows.Level(row, EndBands.Presence) + EndBands.PerHzDb(EndBands.Presence)
        - 0.5 * (rows.Level(row, EndBands.UnderPresence) + EndBands.PerHzDb(EndBands.UnderPresence)
            + rows.Level(row, EndBands.OverPresence) + EndBands.PerHzDb(EndBands.OverPresence));

    private double MudOf(int row) => rows.Level(row, EndBands.Thick) + EndBands.PerHzDb(EndBands.Thick)
        - rows.Level(row, EndBands.Clear) - EndBands.PerHzDb(EndBands.Clear);

    private TroubleFinding? Broad(
        TroubleKind kind, Func<int, double> heightOf, double letPass, int range, Func<double, double, double, string, SuggestedCorrection> correction)
    {
        double music = rows.MeanDb(EndBands.Music);
        double threshold = letPass - settings.SensitivityDb;
        bool Stands(int row) => rows.Active[row] && rows.Level(row, range) > music - HearableBelowMusicDb && heightOf(row) > threshold;
        List<int> standing = [.. Enumerable.Range(0, rows.Active.Length).Where(Stands)];
        double share = (double)standing.Count / Math.Max(1, rows.ActiveCount);
        if (standing.Count * rowSeconds < LeastSeconds || share < (kind == TroubleKind.Glare ? LeastGlareShare : LeastMudShare))
        {
            return null;
        }

        (double lowHz, double highHz) = EndBands.Ranges[range];
        double centre = Math.Sqrt(lowHz * highHz);
        double width = Math.Log2(highHz / lowHz);
        double surplus = EndRows.Percentile(standing.Select(heightOf), 0.5) - threshold + 3;
        ImmutableArray<TimeRange> when = [.. rows.Stretches(Stands, LongestGapSeconds)];
        double level = rows.MeanDb(range, Stands);
        string words = kind == TroubleKind.Glare ? "takes the glare down and keeps the bite" : "thins the low middle of low notes";
        return new TroubleFinding(
            kind,
            share > 0.7 ? Occurrence.Steady : Occurrence.EventBound,
            centre,
            width,
            surplus,
            Piercing.Sone(settings.SplOf(level), surplus, centre),
            share,
            when,
            0,
            correction(centre, width, surplus, words));
    }
}
