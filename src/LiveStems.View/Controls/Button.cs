namespace LiveStems.View.Controls;

/// <summary>Something to press. A toggle when it is told how to see whether it is on.</summary>
internal sealed class Button(string text, Action pressed) : Control
{
    private const float Height = 22;
    private const float SideSpace = 9;
    private const float SmallSpace = 6;

    private bool isDown;
    private string text = text;

    public string Text
    {
        get => text;
        set
        {
            if (text != value)
            {
                text = value;
                Redraw();
            }
        }
    }

    /// <summary>Says whether it is on; null for a plain button.</summary>
    public Func<bool>? IsOn { get; init; }

    /// <summary>Surface while on, for what must not be overlooked; null for what is on most of the time, which is underlined.</summary>
    public Tone? OnTone { get; init; }

    /// <summary>True for smaller words.</summary>
    public bool IsSmall { get; set; }

    /// <summary>True to draw no surface while it is off and not under the pointer.</summary>
    public bool IsFlat { get; set; }

    public override bool CanFocus => true;

    public override PointerShape PointerShape => PointerShape.Hand;

    public override Extent Measure(ITextRuler ruler) => IsSmall
        ? new(ruler.Width(Text, Lettering.Small) + 2 * SmallSpace, Height)
        : new(ruler.Width(Text, Lettering.Plain) + 2 * SideSpace, Height);

    public override void Draw(Painter painter)
    {
        bool isOn = IsOn?.Invoke() == true;
        bool isLit = isOn && OnTone is not null;
        Tone surface = isLit ? OnTone!.Value : IsHovered && IsEnabled ? Tone.Lifted : Tone.Raised;
        if (!IsFlat || isOn || IsHovered)
        {
            painter.Fill(Bounds, surface, isDown ? 0.8f : 1, radius: 3);
        }

        if (isOn && !isLit)
        {
            painter.Fill(new(Bounds.X + 5, Bounds.Bottom - 2.5f, Bounds.Width - 10, 2), Tone.Chosen, radius: 1);
        }

        Tone tone = isLit ? Tone.OnChosen : IsOn is null || isOn ? Tone.Text : Tone.Quiet;
        painter.Text(text, Bounds.Inset(IsSmall ? 1 : 3, 0), tone, IsSmall ? Lettering.Small : isLit ? Lettering.Strong : Lettering.Plain, Side.Centre, IsEnabled ? 1 : 0.45f);
        if (HasFocus)
        {
            painter.Frame(Bounds, Tone.Focus, 1.5f, 3);
        }
    }

    public override bool Press(in PointerEvent pointer)
    {
        if (pointer.Button != PointerButton.Left)
        {
            return false;
        }

        isDown = true;
        Redraw();
        return true;
    }

    public override void Release(in PointerEvent pointer)
    {
        isDown = false;
        Redraw();
        if (Bounds.Contains(pointer.X, pointer.Y))
        {
            pressed();
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
