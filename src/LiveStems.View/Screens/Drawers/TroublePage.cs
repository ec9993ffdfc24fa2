using LiveStems.Analysis.Trouble;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>Trouble bands of the chosen stem, or of all; Enter lets one be heard alone where it happens first.</summary>
internal sealed class TroublePage(AlbumDesk desk) : DrawerPage(desk)
{
    private readonly List<(int Stem, TroubleFinding Finding)?> shown = [];
    private bool byPain = true;

    public override string Id => "trouble";

    public override string Name => "trouble";

    public override string Key => "2";

    public override string Purpose => "Trouble bands of the stems";

    public override string Explanation => Searched
        ? $"{(Desk.SelectedStem is { } stem ? stem.Name : "All stems")}: Enter lets the band be heard alone where it happens; “add correction” puts what fits into the chain, bypassed."
        : "Searches every stem for what rings, hisses, booms and clicks, and says when.";

    public override string? JobKind => "find";

    public override IReadOnlyList<DrawerButton> Buttons =>
    [
        new(() => Searched ? "search again" : "search the song", () => Done(() => Desk.Finding.Search()), "Searches all stems of the song that is shown."),
        new(() => byPain ? "what hurts first" : "what is largest first", () => Done(() => byPain = !byPain), "By what it adds to loudness and sharpness at the listening level, or by decibels over the stem's own trend."),
        new(() => "add correction", Take, "Adds the correction that the chosen finding suggests, bypassed until you switch it on."),
    ];

    public override object State => (Desk.Finding.Revision, Desk.SongIndex, Desk.Selection.Stem, byPain);

    private bool Searched => Enumerable.Range(0, Desk.Stems.Count).Any(stem => Desk.Finding.Of(stem) is not null);

    public override IReadOnlyList<DrawerLine> Lines()
    {
        shown.Clear();
        List<DrawerLine> lines = [];
        foreach (StemRow stem in Desk.Stems.Where(each => Desk.SelectedStem is null || each == Desk.SelectedStem))
        {
            if (Desk.Finding.Of(stem.Index) is not { } report)
            {
                continue;
            }

            lines.Add(DrawerLine.Heading(stem.Name, report.Findings.IsEmpty ? "nothing found" : string.Empty));
            shown.Add(null);
            foreach (TroubleFinding finding in byPain ? report.ByPiercing : report.Findings)
            {
                lines.Add(LineOf(stem.Index, finding));
                shown.Add((stem.Index, finding));
            }
        }

        return lines;
    }

    public override void Closed() => Desk.Finding.Show(null);

    protected override void OnChosen(int line) => Desk.Finding.Show(At(line)?.Finding);

    private (int Stem, TroubleFinding Finding)? At(int line) => line >= 0 && line < shown.Count ? shown[line] : null;

    private DrawerLine LineOf(int stem, TroubleFinding finding) => new(
        $"{FindingWords.Kind(finding.Kind)} at {FrequencyText.Of(finding.CentreHz)} ({NoteName.Of(finding.CentreHz)})",
        Signed(finding.SurplusDb, "dB"),
        $"{FindingWords.When(finding.Occurrence)}, {finding.ShareOfTime * 100:0} % of the time: {Times(finding.Ranges)}")
    {
        Tone = Tone.Trouble,
        Act = () => Hear(stem, finding),
    };

    private string? Hear(int stem, TroubleFinding finding)
    {
        Desk.Select(Desk.Stems[stem].Place);
        Desk.Finding.Show(finding);
        Desk.Monitor.ListenTo(finding.ListenCentreHz, finding.ListenWidthOctaves);
        if (!finding.Ranges.IsEmpty)
        {
            Desk.Transport.Seek(Math.Max(0, finding.Ranges[0].StartSeconds - 0.3));
        }

        return null;
    }

    private string? Take() => At(Chosen) is { } found
        ? Desk.Finding.Take(found.Stem, found.Finding)
        : "choose a finding first";
}
