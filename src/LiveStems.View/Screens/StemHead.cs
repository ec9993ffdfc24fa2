using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>The left end of a lane: name, role, solo, mute, chain in or out, gain. Of a stem, a parallel or the song bus.</summary>
internal sealed class StemHead : Control
{
    /// <summary>Width of the level of a stem, at the right end but for the place in the stereo picture.</summary>
    public const float GainUnits = 60;

    /// <summary>Width of the place in the stereo picture, at the right end.</summary>
    public const float PanUnits = 42;

    private const float ButtonUnits = 36;

    private readonly AlbumDesk desk;
    private readonly StemRow? stem;
    private readonly ParallelRow? parallel;
    private readonly List<(Control Control, float Units)> ends = [];

    public StemHead(AlbumDesk desk, StemRow? stem, ParallelRow? parallel)
    {
        this.desk = desk;
        this.stem = stem;
        this.parallel = parallel;
        if (parallel is not null)
        {
            AddToggle("mute", () => parallel.IsMuted, () => parallel.ToggleMute(), Tone.Alarm, "Takes this parallel out of the mix.");
            AddToggle("dry", () => parallel.IsBypassed, () => parallel.ToggleBypass(), Tone.Reduction, "Passes the parallel's whole chain by.");
            AddValue(parallel.Blend, GainUnits);
            ends.Add((Add(new Label(string.Empty)), PanUnits));
        }
        else if (stem is not null)
        {
            AddToggle("solo", () => stem.IsSoloed, () => stem.ToggleSolo(), Tone.Listen, "Hears this stem, with other soloed ones, through the song bus.");
            AddToggle("mute", () => stem.IsMuted, () => stem.ToggleMute(), Tone.Alarm, "Takes this stem out of the mix.");
            AddToggle("dry", () => stem.IsBypassed, () => stem.ToggleBypass(), Tone.Reduction, "Passes the stem's whole chain by: the stem as it came.");
            AddValue(stem.Gain, GainUnits);
            AddValue(stem.Pan, PanUnits);
        }
    }

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
        float right = ends.Count > 0 ? ends[0].Control.Bounds.X - 4 : Bounds.Right - 6;
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
            (Control control, float units) = ends[i];
            x -= units;
            control.Arrange(new(x, Bounds.Y + 3, units - 2, Bounds.Height - 7), ruler);
        }
    }

    private void AddToggle(string text, Func<bool> isOn, Action press, Tone tone, string tip) =>
        ends.Add((Add(new Button(text, press) { IsOn = isOn, OnTone = tone, IsFlat = true, IsSmall = true, Tip = tip }), ButtonUnits));

    private void AddValue(ValueField field, float units) => ends.Add((Add(new ValueBox(new DeskValue(desk, field)) { IsNameless = true }), units));
}
