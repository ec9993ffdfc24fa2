using LiveStems.Analysis.Papers;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>The papers for the client: what they tell, and the file they are written to.</summary>
internal sealed class PapersPage(AlbumDesk desk) : DrawerPage(desk)
{
    private bool hasAccount;
    private bool hasCheck = true;
    private bool hasNotes;
    private string? file;
    private int changes;

    public override string Id => "papers";

    public override string Name => "papers";

    public override string Key => "F3";

    public override string Purpose => "Papers for the client";

    public override string Explanation => $"One page of HTML that needs nothing from outside: measurements, corrections and their reasons, what changed since the last delivery. Into {File}.";

    public override string? JobKind => "papers";

    public override IReadOnlyList<DrawerButton> Buttons => [new(() => "write the papers", () => Desk.Work.WritePapers(File, new PaperScope(hasAccount, hasCheck, hasNotes)), "Measures what has changed and writes the file; one that stands there is replaced.")];

    public override DrawerEntry Entry => new(() => "another file, such as Papers.html", TakeName);

    public override object State => (changes, Desk.Work.Papers);

    private string File => file ?? Path.Combine(Desk.Folder, "Papers.html");

    public override IReadOnlyList<DrawerLine> Lines() =>
    [
        new("measurements, corrections, changes since the last delivery") { Tone = Tone.Quiet },
        DrawerLine.Heading("told beside that"),
        Toggle("what arrived: the intake check", () => hasCheck, value => hasCheck = value, "reads every stem"),
        Toggle("the headroom account of every song", () => hasAccount, value => hasAccount = value, "takes longer"),
        Toggle("notes of the album and the songs", () => hasNotes, value => hasNotes = value, "they may be private"),
        .. Desk.Work.Papers is { } written ? (DrawerLine[])[DrawerLine.Heading("written"), new(written) { Tone = Tone.Good }] : [],
    ];

    private DrawerLine Toggle(string words, Func<bool> isOn, Action<bool> set, string detail) => new(words, Detail: detail)
    {
        IsOn = isOn(),
        Act = () => Done(() =>
        {
            set(!isOn());
            changes++;
        }),
    };

    private string? TakeName(string text)
    {
        string path = PathOf(text, Desk.Folder);
        if (!AlbumPaper.IsName(path))
        {
            return "the name of the papers ends in .html";
        }

        file = path;
        changes++;
        return null;
    }
}
