namespace LiveStems.View.Controls;

/// <summary>Words that are asked for whenever it is drawn.</summary>
internal sealed class LiveLabel(Func<string> words, Tone tone, Lettering lettering = Lettering.Plain, Side side = Side.Left) : Control
{
    private string shown = string.Empty;

    /// <summary>The tone, where it depends on what is said.</summary>
    public Func<Tone>? ToneOf { get; init; }

    /// <summary>Asks whether the words are others, and has them drawn if so.</summary>
    public void Follow()
    {
        if (words() != shown)
        {
            Redraw();
        }
    }

    public override Extent Measure(ITextRuler ruler) => new(ruler.Width(words(), lettering), ruler.LineHeight(lettering));

    public override void Draw(Painter painter)
    {
        shown = words();
        painter.Text(shown, Bounds, ToneOf?.Invoke() ?? tone, lettering, side);
    }
}

/// <summary>A button whose words are asked for whenever it is drawn.</summary>
internal sealed class TextButton(Func<string> words, Action pressed) : Control
{
    private readonly Func<string> words = words;

    public override bool CanFocus => true;

    public override PointerShape PointerShape => PointerShape.Hand;

    public Side Side { get; init; } = Side.Centre;

    /// <summary>Says whether it is on, for a toggle; underlined then.</summary>
    public Func<bool>? IsOn { get; init; }

    /// <summary>True to draw no surface unless under the pointer, and smaller, quieter words.</summary>
    public bool IsFlat { get; init; }

    /// <summary>True for smaller words.</summary>
    public bool IsSmall { get; set; }

    public override Extent Measure(ITextRuler ruler) => IsSmall
        ? new(ruler.Width(words(), Lettering.Small) + 12, 22)
        : new(ruler.Width(words(), Lettering.Plain) + 18, 22);

    public override void Draw(Painter painter)
    {
        if (!IsFlat || IsHovered)
        {
            painter.Fill(Bounds, IsHovered && IsEnabled ? Tone.Lifted : Tone.Raised, radius: 3);
        }

        if (IsOn?.Invoke() == true)
        {
            painter.Fill(new(Bounds.X + 5, Bounds.Bottom - 2.5f, Bounds.Width - 10, 2), Tone.Chosen, radius: 1);
        }

        float inset = Side != Side.Centre ? 8 : IsSmall ? 1 : 3;
        painter.Text(words(), Bounds.Inset(inset, 0), IsFlat ? Tone.Quiet : Tone.Text, IsFlat || IsSmall ? Lettering.Small : Lettering.Plain, Side, alpha: IsEnabled ? 1 : 0.45f);
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
            pressed();
            Redraw();
        }
    }

    public override bool KeyDown(Key key, Modifiers modifiers)
    {
        if (modifiers != Modifiers.None || key is not (Key.Enter or Key.PadEnter))
        {
            return false;
        }

        pressed();
        Redraw();
        return true;
    }
}
