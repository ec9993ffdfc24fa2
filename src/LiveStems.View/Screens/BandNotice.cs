using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>
/// Says that one band alone is heard, and which, whatever part of the window is in sight: who forgets it would judge a song
/// by a slice of it. A press ends it.
/// </summary>
internal sealed class BandNotice : Control
{
    private const float LongUnits = 372;
    private const float ShortUnits = 188;
    private const float RoomyUnits = 1000;
    private const float Beside = 7;

    private readonly AlbumDesk desk;

    public BandNotice(AlbumDesk desk)
    {
        this.desk = desk;
        Tip = "One band alone is heard. Z and X sweep it, N and W make it narrower and wider; press here, or F, to hear everything again.";
        IsVisible = false;
    }

    public override bool CanFocus => true;

    public override PointerShape PointerShape => PointerShape.Hand;

    /// <summary>What it says, from the most words to the fewest: centre and width, where there is room the edges too.</summary>
    public IReadOnlyList<string> Words
    {
        get
        {
            string centre = FrequencyText.Of(desk.Monitor.Settings.BandCentreHz);
            string width = FrequencyText.OfWidth(desk.Monitor.Settings.BandWidthOctaves);
            (double low, double high) = desk.Monitor.Band;
            return [$"one band is heard: {centre}, {width} wide, {FrequencyText.Of(low)} to {FrequencyText.Of(high)}", $"band {centre}, {width} wide", $"{centre}, {width}"];
        }
    }

    /// <summary>Width that it takes of a bar so wide.</summary>
    public static float UnitsIn(float width) => width >= RoomyUnits ? LongUnits : ShortUnits;

    /// <summary>Comes and goes with the band; once a picture.</summary>
    public void Update() => IsVisible = desk.Monitor.BandListen;

    public override void Draw(Painter painter)
    {
        painter.Fill(Bounds, Tone.Listen, IsHovered ? 0.85f : 1, 3);
        float room = Bounds.Width - 2 * Beside;
        IReadOnlyList<string> words = Words;
        string fitting = words.FirstOrDefault(each => painter.Fonts.Width(each, Lettering.Small) <= room, words[^1]);
        painter.Text(fitting, Bounds.Inset(Beside, 0), Tone.OnChosen, Lettering.Small);
        if (HasFocus)
        {
            painter.Frame(Bounds, Tone.Focus, 1.5f, 3);
        }
    }

    public override bool Press(in PointerEvent pointer) => pointer.Button == PointerButton.Left;

    public override void Release(in PointerEvent pointer)
    {
        if (Bounds.Contains(pointer.X, pointer.Y))
        {
            End();
        }
    }

    public override bool KeyDown(Key key, Modifiers modifiers)
    {
        if (modifiers != Modifiers.None || key is not (Key.Enter or Key.PadEnter))
        {
            return false;
        }

        End();
        return true;
    }

    private void End()
    {
        desk.Monitor.Change(settings => settings with { BandListen = false });
        Host?.Forget(this);
    }
}
