using LiveStems.Analysis.Masking;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>Who covers whom: the chosen stem by each other, then the weightiest pairs of the song; what is chosen is shown on the spectrum.</summary>
internal sealed class MaskingPage(AlbumDesk desk) : DrawerPage(desk)
{
    private readonly List<Covering?> shown = [];
    private bool isCorrected = true;

    public override string Id => "masking";

    public override string Name => "masking";

    public override string Key => "3";

    public override string Purpose => "Masking map of the song";

    public override string Explanation => Desk.Finding.Masking is null
        ? "Listens, with the ear's own bands, which stem covers which, where and how often."
        : IsOld ? "The song has been changed since: the figures are from before. Listen again for those of now."
        : "The spectrum shows, band by band, how often the chosen stem is covered by the other, and the other's level. Enter goes to where it happens; Shift+M steps through.";

    public override string? JobKind => "masking";

    public override IReadOnlyList<DrawerButton> Buttons =>
    [
        new(() => Desk.Finding.Masking is null ? "listen through the song" : "listen again", () => Done(() => Desk.Finding.Map()), "Reads the song twice: as delivered, and with its corrections."),
        new(() => isCorrected ? "with corrections" : "as delivered", () => Done(() => isCorrected = !isCorrected), "Which of the two states is shown."),
    ];

    public override object State => (Desk.Finding.Masking, IsOld, Desk.SongIndex, Desk.Selection.Stem, isCorrected);

    private bool IsOld => Desk.Finding.IsMaskingOld(isCorrected);

    private MaskingMap? Map => Desk.Finding.Masking is not { } maps ? null : isCorrected ? maps.Corrected : maps.AsDelivered;

    public override IReadOnlyList<DrawerLine> Lines()
    {
        shown.Clear();
        if (Map is not { } map)
        {
            return [];
        }

        List<DrawerLine> lines = [];
        if (Desk.SelectedStem is { } stem)
        {
            Add(lines, DrawerLine.Heading($"{stem.Name}, covered by", "of its time"), null);
            foreach (Covering covering in Covering.OfStem(map, stem.Name))
            {
                MaskingPair? pair = map.Worst.FirstOrDefault(each => each.Covered == covering.Covered && each.By == covering.By);
                Add(lines, new DrawerLine(covering.By, $"{covering.Share * 100:0} %", pair is null ? string.Empty : Where(pair)) { Act = pair is null ? null : () => Hear(pair) }, covering);
            }
        }

        Add(lines, DrawerLine.Heading("the weightiest of the song", "of its time"), null);
        foreach (MaskingPair pair in map.Worst)
        {
            Add(lines, new DrawerLine($"{pair.Covered}, by {pair.By}", $"{pair.ShareOfTime * 100:0} %", Where(pair)) { Act = () => Hear(pair) }, new Covering(map, pair.Covered, pair.By));
        }

        return lines;
    }

    protected override void OnChosen(int line) => Desk.Finding.ShowCovering(line >= 0 && line < shown.Count ? shown[line] : null);

    private static string Where(MaskingPair pair) =>
        $"{FrequencyText.Of(pair.LowHz)} to {FrequencyText.Of(pair.HighHz)}{(pair.Ranges.IsEmpty ? string.Empty : $", most at {Times(pair.Ranges)}")}";

    private void Add(List<DrawerLine> lines, DrawerLine line, Covering? covering)
    {
        lines.Add(IsOld && !line.IsHeading ? line with { Tone = Tone.Quiet } : line);
        shown.Add(covering);
    }

    private string? Hear(MaskingPair pair)
    {
        if (Desk.Stems.FirstOrDefault(stem => stem.Name == pair.Covered) is not { } covered)
        {
            return $"there is no stem '{pair.Covered}' any more";
        }

        Desk.Select(covered.Place);
        if (!pair.Ranges.IsEmpty)
        {
            Desk.Transport.Seek(pair.Ranges[0].StartSeconds);
        }

        return null;
    }
}
