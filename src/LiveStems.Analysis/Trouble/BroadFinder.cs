using System.Collections.Immutable;
using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Trouble;

/// <summary>Broad ranges that stand out: glare in the upper middle, and mud where low notes are thick or a guitar's box booms.</summary>
internal sealed class BroadFinder(EndRows rows, TroubleSettings settings, double rowSeconds)
{
    /// <summary>How far the presence range may stand above its neighbours, per Hz, on the line between them, dB.</summary>
    public const double GlareDb = 8.5;

    /// <summary>How far the low middle of a voice may stand above what makes it clear, per Hz, dB.</summary>
    public const double MudDb = 18;

    /// <summary>How far the range of a guitar's air resonance may stand above those below and above it, per Hz, dB.</summary>
    public const double BoxDb = 10;

    private const double LeastSeconds = 2;
    private const double LeastGlareShare = 0.3;
    private const double LeastMudShare = 0.1;
    private const double LeastBoxShare = 0.2;
    private const double LongestGapSeconds = 1.5;
    private const double HearableBelowMusicDb = 35;

    public IEnumerable<TroubleFinding> Find()
    {
        if (settings.Role is not (StemRole.LeadVocal or StemRole.BackingVocal)
            && Broad(TroubleKind.Glare, GlareOf, GlareDb, LeastGlareShare, EndBands.Presence, CorrectionAdvice.Bell) is { } glare)
        {
            yield return glare;
        }

        TroubleFinding? mud = settings.Role switch
        {
            StemRole.LeadVocal => Broad(TroubleKind.Mud, MudOf, MudDb, LeastMudShare, EndBands.Thick, CorrectionAdvice.DynamicBell),
            StemRole.Guitar => Broad(TroubleKind.Mud, BoxOf, BoxDb, LeastBoxShare, EndBands.Box, CorrectionAdvice.DynamicBell),
            _ => null,
        };
        if (mud is not null)
        {
            yield return mud with { Occurrence = Occurrence.NoteFollowing };
        }
    }

    private double GlareOf(int row) =>
        PerHz(row, EndBands.Presence) - 0.5 * (PerHz(row, EndBands.UnderPresence) + PerHz(row, EndBands.OverPresence));

    private double BoxOf(int row) => PerHz(row, EndBands.Box) - Math.Max(PerHz(row, EndBands.UnderBox), PerHz(row, EndBands.OverBox));

    private double PerHz(int row, int range) => rows.Level(row, range) + EndBands.PerHzDb(range);

    private double MudOf(int row) => PerHz(row, EndBands.Thick) - PerHz(row, EndBands.Clear);

    private TroubleFinding? Broad(
        TroubleKind kind, Func<int, double> heightOf, double letPass, double leastShare, int range, Func<double, double, double, string, SuggestedCorrection> correction)
    {
        double music = rows.MeanDb(EndBands.Music);
        double threshold = letPass - settings.SensitivityDb;
        bool Stands(int row) => rows.Active[row] && rows.Level(row, range) > music - HearableBelowMusicDb && heightOf(row) > threshold;
        List<int> standing = [.. Enumerable.Range(0, rows.Active.Length).Where(Stands)];
        double share = (double)standing.Count / Math.Max(1, rows.ActiveCount);
        if (standing.Count * rowSeconds < LeastSeconds || share < leastShare)
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
