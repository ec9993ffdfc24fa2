using LiveStems.Analysis.Masking;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>Who covers whom; the chosen pair is shown on the spectrum.</summary>
internal sealed class MaskingPage(AlbumDesk desk) : DrawerPage(desk)
{
    private bool isCorrected = true;
    private IReadOnlyList<MaskingPair?> shown = [];

    public override string Id => "masking";

    public override string Name => "masking";

    public override string Key => "3";

    public override string Purpose => "Masking map of the song";

    public override string Explanation => Desk.Finding.Masking is null
        ? "Listens, with the ear's own bands, which stem covers which, where and how often."
        : "Enter chooses the covered stem; the spectrum shows what covers it, how often in each band, and the stem on top.";

    public override string? JobKind => "masking";

    public override IReadOnlyList<DrawerButton> Buttons =>
    [
        new(() => Desk.Finding.Masking is null ? "listen through the song" : "listen again", () => Done(() => Desk.Finding.Map()), "Reads the song twice: as delivered, and with its corrections."),
        new(() => isCorrected ? "with corrections" : "as delivered", () => Done(() => isCorrected = !isCorrected), "Which of the two states is shown."),
    ];

    public override object State => (Desk.Finding.Revision, Desk.SongIndex, isCorrected);

    public override IReadOnlyList<DrawerLine> Lines()
    {
        if (Desk.Finding.Masking is not { } maps)
        {
            shown = [];
            return [];
        }

        MaskingMap map = isCorrected ? maps.Corrected : maps.AsDelivered;
        shown = [.. map.Worst.Select(pair => (MaskingPair?)pair).Prepend(null)];
        return [DrawerLine.Heading("covered by", "of its time"), .. map.Worst.Select(LineOf)];
    }

    public override void Closed() => Desk.Finding.Show(null, null);

    protected override void OnChosen(int line)
    {
        MaskingPair? pair = line >= 0 && line < shown.Count ? shown[line] : null;
        Desk.Finding.Show(pair, Desk.Finding.Masking is { } maps ? isCorrected ? maps.Corrected : maps.AsDelivered : null);
    }

    private DrawerLine LineOf(MaskingPair pair) => new(
        $"{pair.Covered}, by {pair.By}",
        $"{pair.ShareOfTime * 100:0} %",
        $"{FrequencyText.Of(pair.LowHz)} to {FrequencyText.Of(pair.HighHz)}{(pair.Ranges.IsEmpty ? string.Empty : $", most at {Times(pair.Ranges)}")}")
    {
        Act = () => Hear(pair),
    };

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
