using LiveStems.Analysis.Headroom;
using LiveStems.Engine.Live;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>What every correction buys at the limiter.</summary>
internal sealed class HeadroomPage(AlbumDesk desk) : DrawerPage(desk)
{
    private IReadOnlyList<ValueField>? values;

    public override string Id => "headroom";

    public override string Name => "headroom";

    public override string Key => "4";

    public override string Purpose => "Headroom account of the song";

    public override string Explanation => Desk.Work.IsAccountOld
        ? "The song has been changed since: the figures are from before. Measure what changed for those of now."
        : "In LU: how much louder the song comes out with this in than without it, for the same work of the limiter. Enter chooses it.";

    public override string? JobKind => Desk.Jobs.Open(TargetsModel.JobKind) is null ? "account" : TargetsModel.JobKind;

    public override IReadOnlyList<DrawerButton> Buttons =>
    [
        new(() => Report is null ? "measure" : "measure what changed", () => Done(() => Desk.Work.Account()), "Measures corrections whose stem or bus has changed since."),
        new(() => "all anew", () => Done(() => Desk.Work.Account(wholly: true)), "Measures every line again, for what the rest of the song has changed too."),
        new(() => $"to {FrequencyText.OfDb((Desk.Song.Targets ?? Desk.Album.Targets).IntegratedLufs ?? double.NaN, "LUFS")}", () => Done(() => Desk.Work.MeetTarget()), "Sets the limiter so that the master meets its target; can be undone."),
        new(() => "all songs to target", () => Done(() => Desk.Targets.MeetAll()), "Sets the limiters of all songs so that their masters meet their targets, as one step."),
    ];

    public override IReadOnlyList<ValueField> Values => values ??= [Desk.Targets.MostReduction];

    public override string ValuesName => "what the limiter may take for a target";

    public override object State => (Report, Desk.Work.IsAccountOld, Desk.SongIndex, Desk.Work.IsAccountOld ? Desk.Revision : 0);

    private HeadroomReport? Report => Desk.Work.ShownAccount;

    public override IReadOnlyList<DrawerLine> Lines() => Report is not { } report ? [] :
    [
        .. report.Rows.Select(LineOf),
        DrawerLine.Heading("the song at its limiter"),
        FiguresOf("as it is", report.AllIn),
        FiguresOf("without corrections", report.AllOut),
    ];

    private DrawerLine FiguresOf(string words, HeadroomFigures figures) => new(
        words,
        FrequencyText.OfDb(figures.IntegratedLufs, "LUFS"),
        $"peak before it {FrequencyText.OfDb(figures.TruePeakDbtp, "dBTP")}; takes {figures.MeanReductionDb:0.0} dB in the mean, {figures.LargestReductionDb:0.0} dB at most, over 3 dB {figures.ShareAbove3Db * 100:0} % of the time{(Desk.Work.IsAccountOld ? "; before the last change" : string.Empty)}")
    {
        Tone = Desk.Work.IsAccountOld ? Tone.Quiet : Tone.Text,
    };

    private DrawerLine LineOf(HeadroomRow row) => new(
        row.Subject.Words,
        Signed(row.BoughtDb, "LU"),
        $"{Signed(row.BoughtAloneDb, "LU")} as the only correction; without it the limiter takes {row.LeftOut.MeanReductionDb:0.0} dB in the mean{WhenOf(row)}")
    {
        Tone = Desk.Work.IsAccountOld ? Tone.Quiet : row.BoughtDb >= 0.05 ? Tone.Good : row.BoughtDb <= -0.05 ? Tone.Reduction : Tone.Text,
        Act = () => Choose(row.Subject),
    };

    private string WhenOf(HeadroomRow row) => IsGone(row.Subject) ? "; gone since"
        : Desk.Work.IsAccountOld ? "; before the last change"
        : row.IsFromBefore ? "; measured before something else changed" : string.Empty;

    private bool IsGone(HeadroomSubject subject) => PlaceOf(subject) is not { } place
        || (place.Slot is { } slot && ChainPlace.Find(Desk.Song, place)?.Slots.Any(each => each.Id == slot) != true);

    // Null where stem or parallel is gone.
    private TapPlace? PlaceOf(HeadroomSubject subject)
    {
        int parallel = subject.Parallel is null || subject.Stem >= Desk.Stems.Count ? -1
            : Desk.Stems[subject.Stem].Parallels.ToList().FindIndex(each => each.Name == subject.Parallel);
        return subject.Stem >= Desk.Stems.Count || (subject.Parallel is not null && parallel < 0) ? null : new TapPlace(subject.Stem, parallel, subject.Slot);
    }

    private string? Choose(HeadroomSubject subject)
    {
        if (IsGone(subject))
        {
            return $"{subject.Words} is gone since it was measured";
        }

        Desk.Select(PlaceOf(subject)!.Value);
        return null;
    }
}
