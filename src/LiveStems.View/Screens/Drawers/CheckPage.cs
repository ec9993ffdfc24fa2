using LiveStems.Albums.Model;
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
        ? $"{report.Findings.Count} findings in {TimeText.Of(report.SecondsOfSound)} of sound. Enter goes to the place. What to ask for stands below each; type what was answered at the foot, Delete takes an answer back."
        : "Reads every stem for clicks, dropouts, clipping, wrong sides, delays, and whether the stems add up to the rough mix.";

    public override string? JobKind => "check";

    public override IReadOnlyList<DrawerButton> Buttons =>
    [
        new(() => Desk.Work.Intake is null ? "check the album" : "check again", () => Done(() => Desk.Work.Check()), "Reads all stems of all songs once."),
        .. Desk.Work.Intake is not { } report ? (DrawerButton[])[] :
        [
            new(() => "write the questions", () => Desk.Work.WriteQuestions(report), $"Writes what is to be asked and not answered yet into {WorkModel.QuestionsName}, ready to be mailed."),
        ],
    ];

    public override DrawerEntry? Entry => Desk.Work.Intake is { Findings.Count: > 0 }
        ? new(() => At(Chosen) is { } finding ? $"what was answered about {finding.Stem ?? finding.Song}" : "choose a finding to write down what was answered", Answer)
        : null;

    public override object State => (Desk.Work.Intake, Desk.Revision);

    public override IReadOnlyList<DrawerLine> Lines() => Desk.Work.Intake is not { } report ? []
        : report.Findings.Count == 0 ? [new("nothing: work can begin") { Tone = Tone.Good }]
        : [.. Order(report).SelectMany(group => group.Select(LineOf).Prepend(DrawerLine.Heading($"{WordsOf(group.Key.Rank)}: {group.Key.Song}", $"{group.Count()}")))];

    private static string WordsOf(FindingRank rank) => rank switch
    {
        FindingRank.Stop => "clear before work begins",
        FindingRank.Look => "listen to it",
        _ => "good to know",
    };

    private static IEnumerable<IGrouping<(FindingRank Rank, string Song), IntakeFinding>> Order(IntakeReport report) =>
        report.Findings.OrderBy(finding => finding.Rank).GroupBy(finding => (finding.Rank, finding.Song));

    private DrawerLine LineOf(IntakeFinding finding)
    {
        IntakeAnswer? answer = IntakeAnswers.To(Desk.Album, finding);
        return new(
            finding.Stem is null ? finding.Text : $"{finding.Stem}: {finding.Text}",
            finding.StartSeconds is { } start ? TimeText.Of(start) : string.Empty,
            answer is null ? finding.Request : $"answered: {answer.Text}")
        {
            Tone = answer is not null ? Tone.Quiet : finding.Rank switch { FindingRank.Stop => Tone.Alarm, FindingRank.Look => Tone.Trouble, _ => Tone.Text },
            Act = () => GoTo(finding),
            Remove = answer is null ? null : () => Desk.Edit(album => IntakeAnswers.Answer(album, finding, string.Empty), words: $"answer about {finding.Stem ?? finding.Song}"),
        };
    }

    private IntakeFinding? At(int line) => Desk.Work.Intake is { } report && line >= 0
        ? Order(report).SelectMany(group => group.Select(IntakeFinding? (finding) => finding).Prepend(null)).ElementAtOrDefault(line)
        : null;

    private string? Answer(string text) => At(Chosen) is not { } finding ? "choose a finding first"
        : Desk.Album.Songs.All(song => song.Title != finding.Song) ? $"the song '{finding.Song}' is no longer in the album"
        : Desk.Edit(album => IntakeAnswers.Answer(album, finding, text), words: $"answer about {finding.Stem ?? finding.Song}");

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
