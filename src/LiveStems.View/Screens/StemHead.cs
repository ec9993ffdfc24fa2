using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>The left end of a lane: name, role, solo, mute, chain in or out, gain. Of a stem, a parallel or the song bus.</summary>
internal sealed class StemHead : Control
{
    private readonly AlbumDesk desk;
    private readonly StemRow? stem;
    private readonly ParallelRow? parallel;
    private readonly List<(Control Control, Func<LaneColumns, float> Units)> ends = [];

    public StemHead(AlbumDesk desk, StemRow? stem, ParallelRow? parallel)
    {
        this.desk = desk;
        this.stem = stem;
        this.parallel = parallel;
        if (parallel is not null)
        {
            AddToggle("mute", () => parallel.IsMuted, () => parallel.ToggleMute(), Tone.Alarm, "Takes this parallel out of the mix.");
            AddToggle("dry", () => parallel.IsBypassed, () => parallel.ToggleBypass(), Tone.Reduction, "Passes the parallel's whole chain by.", DryUnits);
            AddValue(parallel.Blend, columns => columns.Gain);
            ends.Add((Add(new Label(string.Empty)), columns => columns.Pan));
        }
        else if (stem is not null)
        {
            AddToggle("solo", () => stem.IsSoloed, () => stem.ToggleSolo(), Tone.Listen, "Hears this stem, with other soloed ones, through the song bus.");
            AddToggle("mute", () => stem.IsMuted, () => stem.ToggleMute(), Tone.Alarm, "Takes this stem out of the mix.");
            AddToggle("dry", () => stem.IsBypassed, () => stem.ToggleBypass(), Tone.Reduction, "Passes the stem's whole chain by: the stem as it came.", DryUnits);
            AddValue(stem.Gain, columns => columns.Gain);
            AddValue(stem.Pan, columns => columns.Pan);
        }
    }

    /// <summary>How its width is shared out; takes hold when it is arranged.</summary>
    public LaneColumns Columns { get; set; } = LaneColumns.Widest;

    public override PointerShape PointerShape => PointerShape.Hand;

    private bool IsSelected => parallel?.IsSelected ?? (stem is not null ? stem.IsSelected && desk.Selection.Parallel < 0 : desk.Selection.IsBus);

    public override void Draw(Painter painter)
    {
        painter.Fill(Bounds, IsSelected ? Tone.Panel : Tone.Ground);
        if (IsSelected)
        {
            painter.Fill(new(Bounds.X, Bounds.Y, 3, Bounds.Height), Tone.Chosen);
        }

        float left = Bounds.X + (parallel is null ? 9 : 22);
        Control? first = ends.Find(end => end.Control.IsVisible).Control;
        float right = first is not null ? first.Bounds.X - 4 : Bounds.Right - 6;
        string name = parallel?.Name ?? stem?.Name ?? "song bus";
        Box box = Box.Between(left, Bounds.Y, right, Bounds.Bottom);
        bool isHeard = stem is null || stem.IsHeard;
        painter.Text(name, box, isHeard ? Tone.Text : Tone.Quiet, IsSelected ? Lettering.Strong : Lettering.Plain);
        float taken = painter.Fonts.Width(name, IsSelected ? Lettering.Strong : Lettering.Plain) + 7;
        string role = parallel is not null ? (parallel.IsAfterChain ? "after the chain" : "before the chain") : stem?.RoleWord.Replace('-', ' ') ?? string.Empty;
        // A role that the name says already, or that has no room, is left out.
        float room = right - left - taken;
        if (painter.Fonts.Width(role, Lettering.Small) <= room && !name.Contains(role, StringComparison.OrdinalIgnoreCase))
        {
            painter.Text(role, new(left + taken, Bounds.Y + 1, room, Bounds.Height), Tone.Quiet, Lettering.Small);
        }
    }

    public override bool Press(in PointerEvent pointer)
    {
        if (parallel is not null)
        {
            parallel.Select();
        }
        else if (stem is not null)
        {
            stem.Select();
        }
        else
        {
            desk.Select(Engine.Live.TapPlace.Bus);
        }

        return false;
    }

    protected override void ArrangeChildren(ITextRuler ruler)
    {
        float x = Bounds.Right - 4;
        for (int i = ends.Count - 1; i >= 0; i--)
        {
            (Control control, Func<LaneColumns, float> wanted) = ends[i];
            float units = wanted(Columns);
            control.IsVisible = units > 0;
            x -= units;
            control.Arrange(new(x, Bounds.Y + 3, Math.Max(0, units - 2), Bounds.Height - 7), ruler);
        }
    }

    private static float DryUnits(LaneColumns columns) => columns.HasDry ? columns.Toggle : 0;

    private void AddToggle(string text, Func<bool> isOn, Action press, Tone tone, string tip, Func<LaneColumns, float>? units = null) =>
        ends.Add((Add(new Button(text, press) { IsOn = isOn, OnTone = tone, IsFlat = true, IsSmall = true, Tip = tip }), units ?? (columns => columns.Toggle)));

    private void AddValue(ValueField field, Func<LaneColumns, float> units) => ends.Add((Add(new ValueBox(new DeskValue(desk, field)) { IsNameless = true }), units));
}
