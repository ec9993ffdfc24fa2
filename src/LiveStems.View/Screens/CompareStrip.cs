using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>What is compared with what, which side is heard, and whether both are equally loud; undo and redo beside it.</summary>
internal sealed class CompareStrip : Control
{
    private readonly AlbumDesk desk;
    private readonly Stack row = Stack.Row(5);

    public CompareStrip(AlbumDesk desk, Action chooseScope)
    {
        this.desk = desk;
        Add(row);
        row.Add(new Label("compare", Tone.Quiet, Lettering.Small), Length.Of(48));
        row.Add(new TextButton(() => WordsOf(desk.Compare.Scope), chooseScope) { Side = Side.Left, Tip = "What is compared." }, Length.Of(150));
        AddSide("in", CompareSide.In, "With it. C goes to and fro.");
        AddSide("out", CompareSide.Out, "Without it.");
        AddSide("difference", CompareSide.Difference, "In minus out, aligned: what it takes away or adds.");
        row.Add(new Button("equally loud", desk.Compare.ToggleFair) { IsOn = () => desk.Compare.IsFair, IsFlat = true, Tip = "Both sides at the same loudness (ITU-R BS.1770), so that the louder one does not win." }, Length.Fit);
        row.Add(new LiveLabel(() => desk.Compare is { IsFair: true, FairGainDb: { } gain } ? FrequencyText.OfDb(gain) : string.Empty, Tone.Quiet), Length.Of(54));
        row.Add(new Label(string.Empty), Length.Rest());
        row.Add(new TextButton(() => desk.UndoWords is { } words ? $"undo: {words}" : "nothing to undo", () => desk.Undo()) { Side = Side.Left, Tip = "Takes the latest step back. Ctrl+Z." }, Length.Rest(2));
        row.Add(new TextButton(() => desk.RedoWords is { } words ? $"redo: {words}" : "nothing to redo", () => desk.Redo()) { Side = Side.Left, Tip = "Does again what was taken back. Ctrl+Y." }, Length.Rest(1.4f));
    }

    /// <summary>A scope in words.</summary>
    public static string WordsOf(CompareScope scope) => scope switch
    {
        CompareScope.Processor => "this processor",
        CompareScope.Chain => "this chain",
        CompareScope.Stem => "this stem's treatment",
        CompareScope.AllStems => "all stems' treatment",
        CompareScope.Parallel => "this parallel",
        CompareScope.SongBus => "the song bus",
        CompareScope.Version => "another version",
        CompareScope.RoughMix => "the rough mix",
        _ => "a sound file",
    };

    public override void Draw(Painter painter)
    {
        painter.Fill(Bounds, Tone.Panel, radius: 4);
        if (desk.Compare.Side != CompareSide.In)
        {
            painter.Frame(Bounds, Tone.Reduction, 1.5f, 4);
        }
    }

    protected override void ArrangeChildren(ITextRuler ruler) => row.Arrange(Bounds.Inset(8, 4), ruler);

    private void AddSide(string words, CompareSide side, string tip) =>
        row.Add(new Button(words, () => desk.Compare.Hear(side)) { IsOn = () => desk.Compare.Side == side, OnTone = side == CompareSide.In ? null : Tone.Reduction, Tip = tip }, Length.Fit);
}
