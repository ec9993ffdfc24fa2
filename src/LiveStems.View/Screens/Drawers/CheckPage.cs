using LiveStems.Analysis.Intake;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>What the intake check found, the gravest first; Enter goes to the place.</summary>
internal sealed class CheckPage(AlbumDesk desk) : DrawerPage(desk)
{
    public override string Id => "check";

    public override string Name => "check";

    public override string Key => "1";

    public override string Purpose => "Check of what arrived";

    public override string Explanation => Desk.Work.Intake is { } report
        ? $"{report.Findings.Count} findings in {TimeText.Of(report.SecondsOfSound)} of sound. Enter goes to the place; what to ask for stands below."
        : "Reads every stem for clicks, dropouts, clipping, wrong sides, delays, and whether the stems add up to the rough mix.";

    public override string? JobKind => "check";

    public override IReadOnlyList<DrawerButton> Buttons =>
        [new(() => Desk.Work.Intake is null ? "check the album" : "check again", () => Done(() => Desk.Work.Check()), "Reads all stems of all songs once.")];

    public override object State => (Desk.Work.Intake, Desk.SongIndex);

    public override IReadOnlyList<DrawerLine> Lines() => Desk.Work.Intake is not { } report ? []
        : report.Findings.Count == 0 ? [new("nothing: work can begin") { Tone = Tone.Good }]
        : [.. report.Findings.OrderBy(finding => finding.Rank).GroupBy(finding => finding.Rank).SelectMany(group => group.Select(LineOf).Prepend(DrawerLine.Heading(WordsOf(group.Key), $"{group.Count()}")))];

    private static string WordsOf(FindingRank rank) => rank switch
    {
        FindingRank.Stop => "clear before work begins",
        FindingRank.Look => "listen to it",
        _ => "good to know",
    };

    private DrawerLine LineOf(IntakeFinding finding) => new(
        $"{finding.Stem ?? finding.Song}: {finding.Text}", finding.StartSeconds is { } start ? TimeText.Of(start) : string.Empty, finding.Request)
    {
        Tone = finding.Rank switch { FindingRank.Stop => Tone.Alarm, FindingRank.Look => Tone.Trouble, _ => Tone.Text },
        Act = () => GoTo(finding),
    };

    private string? GoTo(IntakeFinding finding)
    {
        int song = Desk.Album.Songs.ToList().FindIndex(each => each.Title == finding.Song);
        if (song < 0)
        {
            return $"the song '{finding.Song}' is no longer in the album";
        }

        Desk.ShowSong(song);
        if (Desk.Stems.FirstOrDefault(stem => stem.Name == finding.Stem) is { } row)
        {
            Desk.Select(row.Place);
        }

        if (finding.StartSeconds is { } start)
        {
            Desk.Transport.Seek(Math.Max(0, start - 0.5));
        }

        return null;
    }
}
