using LiveStems.Engine.Comparing;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>What is compared with what, which side is heard, and whether both are equally loud; undo and redo beside it.</summary>
internal sealed class CompareStrip : Control
{
    private const float UndoUnits = 800;
    private const float HeadingUnits = 600;
    private const float FairUnits = 500;
    private const float ScopeUnits = 150;
    private const int ScopePlace = 1;

    private readonly AlbumDesk desk;
    private readonly TextButton undo;
    private readonly TextButton redo;
    private readonly LiveLabel fair;
    private readonly Label heading;
    private readonly Label filler;
    private readonly Button drawer;
    private readonly Stack row = Stack.Row(5);

    public CompareStrip(AlbumDesk desk, Action chooseScope, Action openDrawer, string drawerTip)
    {
        this.desk = desk;
        Add(row);
        heading = row.Add(new Label("compare", Tone.Quiet, Lettering.Small), Length.Of(48));
        row.Add(new TextButton(() => desk.Compare.IsOn ? desk.Compare.Words : WordsOf(desk.Compare.Kind), chooseScope) { Side = Side.Left, Tip = "What is compared." }, Length.Of(ScopeUnits));
        AddSide("in", CompareSide.In, "The sound as it goes in: without what is compared. C goes to and fro.");
        AddSide("out", CompareSide.Out, "The sound as it comes out: with it.");
        AddSide("difference", CompareSide.Difference, "Out minus in, aligned: what it takes away or adds.");
        row.Add(new Button("equally loud", () => desk.Compare.ToggleFair()) { IsOn = () => desk.Compare.IsFair, IsFlat = true, Tip = "Both sides at the same loudness (ITU-R BS.1770), so that the louder one does not win." }, Length.Fit);
        fair = row.Add(new LiveLabel(() => desk.Compare is { IsOn: true, Fair.IsMeasured: true } ? $"{FrequencyText.OfDb(desk.Compare.Fair.DifferenceLu, "LU")}" : string.Empty, Tone.Quiet), Length.Of(54));
        filler = row.Add(new Label(string.Empty), Length.Rest());
        undo = row.Add(new TextButton(() => desk.UndoWords is { } words ? $"undo: {words}" : "nothing to undo", () => desk.Undo()) { Side = Side.Left, Tip = "Takes the latest step back. Ctrl+Z." }, Length.Rest(2));
        redo = row.Add(new TextButton(() => desk.RedoWords is { } words ? $"redo: {words}" : "nothing to redo", () => desk.Redo()) { Side = Side.Left, Tip = "Does again what was taken back. Ctrl+Y." }, Length.Rest(1.4f));
        drawer = row.Add(new Button("drawer", openDrawer) { Tip = drawerTip }, Length.Fit);
    }

    /// <summary>Says whether the drawer is opened from here; it is not where it is among the parts of a small window.</summary>
    public Func<bool> HasDrawer { get; init; } = () => true;

    /// <summary>A scope in words.</summary>
    public static string WordsOf(CompareKind kind) => kind switch
    {
        CompareKind.Processor => "this processor",
        CompareKind.Chain => "this chain",
        CompareKind.Stem => "this stem's treatment",
        CompareKind.AllStems => "all stems' treatment",
        CompareKind.Parallel => "this parallel",
        CompareKind.SongChain => "the song bus",
        CompareKind.Version => "another version",
        CompareKind.RoughMix => "the rough mix",
        _ => "a sound file",
    };

    /// <summary>Takes in what is new.</summary>
    public void Update() => fair.Follow();

    public override void Draw(Painter painter)
    {
        painter.Fill(Bounds, Tone.Panel, radius: 4);
        if (desk.Compare is { IsOn: true, Side: not CompareSide.Out, Blind.IsRunning: false })
        {
            painter.Frame(Bounds, Tone.Reduction, 1.5f, 4);
        }
    }

    protected override void ArrangeChildren(ITextRuler ruler)
    {
        // Where there is no room for their words, the keys do it.
        undo.IsVisible = redo.IsVisible = Bounds.Width >= UndoUnits;
        heading.IsVisible = Bounds.Width >= HeadingUnits;
        drawer.IsVisible = HasDrawer();
        fair.IsVisible = Bounds.Width >= FairUnits;
        filler.IsVisible = heading.IsVisible;
        row.SetLength(ScopePlace, heading.IsVisible ? Length.Of(ScopeUnits) : Length.Rest());
        row.Arrange(Bounds.Inset(heading.IsVisible ? 8 : 4, heading.IsVisible ? 4 : 2), ruler);
    }

    private void AddSide(string words, CompareSide side, string tip) =>
        row.Add(new Button(words, () => desk.Compare.Hear(side)) { IsOn = () => !desk.Compare.Blind.IsRunning && (desk.Compare.IsOn ? desk.Compare.Side == side : side == CompareSide.Out), OnTone = side == CompareSide.Out ? null : Tone.Reduction, Tip = tip }, Length.Fit);
}
