using LiveStems.View.Window;

namespace LiveStems.View.Controls;

/// <summary>
/// The controls of a window: hands events to them, knows who has the pointer and the keyboard, lays out, and collects what
/// is to be drawn again.
/// </summary>
internal sealed class ControlHost : IWindowEvents
{
    private const double DoubleClickSeconds = 0.4;
    private const float DoubleClickUnits = 5;
    private const double TipSeconds = 0.6;

    private readonly ITextRuler ruler;
    private readonly Func<double> clock;
    private readonly List<Control> overlays = [];
    private Control? pressed;
    private PointerButton pressedButton;
    private (double At, float X, float Y, int Clicks) lastPress = (-10, 0, 0, 0);
    private double restSince;
    private Modifiers held;
    private Box tipPlace;
    private bool swallowsText;
    private bool isRepeating;

    /// <param name="root">What fills the window.</param>
    /// <param name="keys">What the keys do.</param>
    /// <param name="ruler">How long words are.</param>
    /// <param name="clock">Seconds, from any start.</param>
    public ControlHost(Control root, IKeyCommands keys, ITextRuler ruler, Func<double> clock)
    {
        Root = root;
        Keys = keys;
        this.ruler = ruler;
        this.clock = clock;
        root.OwnHost = this;
    }

    public Control Root { get; }

    public IKeyCommands Keys { get; }

    /// <summary>What stands above the rest, the uppermost last; it alone gets the pointer and the keyboard.</summary>
    public IReadOnlyList<Control> Overlays => overlays;

    public Control? Focus { get; private set; }

    public Control? Hovered { get; private set; }

    /// <summary>Pixels in a logical unit.</summary>
    public float Scale { get; private set; } = 1;

    /// <summary>What is to be drawn again, in logical units, once laid out.</summary>
    public DirtyArea Dirty { get; } = new();

    /// <summary>Where the pointer is.</summary>
    public (float X, float Y) Pointer { get; private set; } = (-1, -1);

    /// <summary>The sentence to show beside the pointer, or null.</summary>
    public string? Tip { get; private set; }

    /// <summary>The words on the clipboard, for those who copy and paste.</summary>
    public string Clipboard
    {
        get => ReadClipboard?.Invoke() ?? field;
        set
        {
            field = value;
            WriteClipboard?.Invoke(value);
        }
    }

    = string.Empty;

    /// <summary>Where the words on the clipboard come from; null without a window.</summary>
    public Func<string>? ReadClipboard { get; init; }

    /// <summary>Where words for the clipboard go; null without a window.</summary>
    public Action<string>? WriteClipboard { get; init; }

    /// <summary>When the latest event came, in seconds of the clock.</summary>
    public double LastEventAt { get; private set; }

    /// <summary>Files were dropped on the window.</summary>
    public Action<IReadOnlyList<string>> Dropped { get; set; } = _ => { };

    private bool NeedsLayout { get; set; } = true;

    private Extent Size { get; set; }

    private Control Reach => overlays.Count > 0 ? overlays[^1] : Root;

    /// <summary>Takes the size of the window in pixels and the scale.</summary>
    public void SetSize(int widthPixels, int heightPixels, float scale)
    {
        Scale = scale;
        Size = new(widthPixels / scale, heightPixels / scale);
        MarkLayout();
    }

    public void MarkLayout() => NeedsLayout = true;

    public void MarkDirty(in Box box) => Dirty.Add(box.Common(new(0, 0, Size.Width, Size.Height)));

    /// <summary>Lays out where something changed; true when it did.</summary>
    public bool Layout()
    {
        if (!NeedsLayout)
        {
            return false;
        }

        NeedsLayout = false;
        Box all = new(0, 0, Size.Width, Size.Height);
        Root.Arrange(all, ruler);
        foreach (Control overlay in overlays)
        {
            overlay.Arrange(all, ruler);
        }

        Dirty.Clear();
        Dirty.Add(all);
        return true;
    }

    /// <summary>Draws everything that meets a box.</summary>
    public void Draw(Painter painter, in Box box)
    {
        Draw(Root, painter, box);
        foreach (Control overlay in overlays)
        {
            Draw(overlay, painter, box);
        }

        if (Tip is { } tip)
        {
            TipBubble.Draw(painter, tip, tipPlace);
        }
    }

    /// <summary>Shows the tip when the pointer has rested long enough; to be called every frame.</summary>
    public void Tick()
    {
        if (Tip is null && pressed is null && Hovered is not null && clock() - restSince > TipSeconds)
        {
            Control? told = Hovered;
            while (told is not null && told.Tip.Length == 0)
            {
                told = told.Parent;
            }

            if (told is not null)
            {
                Tip = told.Tip;
                tipPlace = TipBubble.Around(ruler, Tip, Pointer, Size);
                MarkDirty(tipPlace);
            }
        }
    }

    /// <summary>Puts something above the rest.</summary>
    public void Open(Control overlay)
    {
        overlay.OwnHost = this;
        overlays.Add(overlay);
        MarkLayout();
        SetFocus(overlay.Everything().FirstOrDefault(each => each.CanFocus));
    }

    /// <summary>Takes it away again.</summary>
    public void Close(Control overlay)
    {
        if (overlays.Remove(overlay))
        {
            Forget(overlay);
            overlay.OwnHost = null;
            MarkLayout();
        }
    }

    public void SetFocus(Control? control)
    {
        Control? before = Focus;
        if (before == control)
        {
            return;
        }

        Focus = control;
        before?.StateChanged();
        control?.StateChanged();
    }

    /// <summary>The keyboard goes on to the next control that takes it, or the one before.</summary>
    public void MoveFocus(int step)
    {
        Control[] all = [.. Reach.Everything().Where(each => each.CanFocus && each.IsEnabled)];
        if (all.Length > 0)
        {
            int now = Focus is null ? (step > 0 ? -1 : all.Length) : Array.IndexOf(all, Focus);
            SetFocus(all[((now + step) % all.Length + all.Length) % all.Length]);
        }
    }

    /// <summary>Something has left the window.</summary>
    public void Forget(Control control)
    {
        if (Focus?.IsInside(control) == true)
        {
            SetFocus(null);
        }

        if (pressed?.IsInside(control) == true)
        {
            pressed = null;
        }

        if (Hovered?.IsInside(control) == true)
        {
            Hovered = null;
        }
    }

    public void PointerMoved(float x, float y)
    {
        Pointer = (x / Scale, y / Scale);
        HideTip();
        PointerEvent moved = Event(pressedButton, 0);
        if (pressed is not null)
        {
            pressed.Drag(moved);
            return;
        }

        SetHovered(Reach.At(Pointer.X, Pointer.Y));
        Hovered?.Hover(moved);
    }

    public void PointerLeft()
    {
        HideTip();
        if (pressed is null)
        {
            Pointer = (-1, -1);
            SetHovered(null);
        }
    }

    public void ButtonPressed(PointerButton button, Modifiers modifiers)
    {
        held = modifiers;
        HideTip();
        double now = clock();
        bool isAgain = now - lastPress.At < DoubleClickSeconds
            && Math.Abs(Pointer.X - lastPress.X) + Math.Abs(Pointer.Y - lastPress.Y) < DoubleClickUnits;
        lastPress = (now, Pointer.X, Pointer.Y, isAgain ? lastPress.Clicks % 2 + 1 : 1);
        if (pressed is not null)
        {
            return;
        }

        pressedButton = button;
        PointerEvent pointer = Event(button, lastPress.Clicks);
        Control? under = Reach.At(Pointer.X, Pointer.Y);
        SetFocus(Ancestry(under).FirstOrDefault(each => each.TakesFocusAt(Pointer.X, Pointer.Y)));
        foreach (Control control in Ancestry(under))
        {
            if (control.IsEnabled && control.Press(pointer))
            {
                pressed = control.Host is null ? null : control;
                break;
            }
        }
    }

    public void ButtonReleased(PointerButton button, Modifiers modifiers)
    {
        held = modifiers;
        if (pressed is null || button != pressedButton)
        {
            return;
        }

        Control released = pressed;
        pressed = null;
        released.Release(Event(button, 1));
        SetHovered(Reach.At(Pointer.X, Pointer.Y));
    }

    public void WheelTurned(float right, float up)
    {
        HideTip();
        PointerEvent pointer = Event(PointerButton.Middle, 0);
        foreach (Control control in Ancestry(Reach.At(Pointer.X, Pointer.Y)))
        {
            if (control.IsEnabled && control.Wheel(pointer, up != 0 ? up : right))
            {
                return;
            }
        }
    }

    public void KeyPressed(Key key, Modifiers modifiers, bool isRepeat)
    {
        held = modifiers;
        isRepeating = isRepeat;
        HideTip();
        swallowsText = false;
        foreach (Control control in Ancestry(Focus ?? Reach))
        {
            if (control.KeyDown(key, modifiers))
            {
                // What the key has done may have put something in place that would take its letter.
                swallowsText = KeyNames.Types(key, modifiers);
                return;
            }
        }

        if (overlays.Count > 0 && key == Key.Escape)
        {
            Close(overlays[^1]);
        }
        else if (key == Key.Escape && Focus is not null)
        {
            // The keys are commands again.
            SetFocus(null);
        }
        else if (key == Key.Tab && (modifiers & ~Modifiers.Shift) == 0)
        {
            MoveFocus(modifiers.HasFlag(Modifiers.Shift) ? -1 : 1);
        }
        else if (overlays.Count == 0 && (key == Key.Space ? Focus?.TakesText != true : !KeyNames.Types(key, modifiers)))
        {
            Keys.Press(KeyNames.Of(key), modifiers, isRepeat);
        }
    }

    public void KeyReleased(Key key, Modifiers modifiers) => held = modifiers;

    /// <summary>A character: for who types, or else a command, so that commands follow the letters printed on the keys.</summary>
    public void TextTyped(string text)
    {
        bool isTaken = swallowsText || Focus?.Type(text) == true || Focus?.TakesText == true;
        swallowsText = false;
        if (!isTaken && overlays.Count == 0 && text != " ")
        {
            bool isLetter = text.Length == 1 && char.IsLetter(text[0]);
            Keys.Press(text.ToUpperInvariant(), isLetter ? held & Modifiers.Shift : Modifiers.None, isRepeating);
        }
    }

    public void FilesDropped(IReadOnlyList<string> paths) => Dropped(paths);

    public void FocusLost()
    {
        if (pressed is { } released)
        {
            pressed = null;
            released.Release(Event(pressedButton, 1));
        }
    }

    public void PictureLost()
    {
        LastEventAt = clock();
        MarkLayout();
    }

    private static void Draw(Control control, Painter painter, in Box box)
    {
        if (!control.IsVisible || !control.Bounds.Meets(box))
        {
            return;
        }

        control.Draw(painter);
        if (control.ClipsChildren)
        {
            painter.Canvas.Save();
            painter.Canvas.ClipRect(control.Bounds.ToSkia());
        }

        foreach (Control child in control.Children)
        {
            Draw(child, painter, box);
        }

        if (control.ClipsChildren)
        {
            painter.Canvas.Restore();
        }

        control.DrawOver(painter);
    }

    private static IEnumerable<Control> Ancestry(Control? control)
    {
        for (; control is not null; control = control.Parent)
        {
            yield return control;
        }
    }

    private PointerEvent Event(PointerButton button, int clicks) => new(Pointer.X, Pointer.Y, button, held, clicks);

    private void SetHovered(Control? control)
    {
        if (Hovered != control)
        {
            Control? before = Hovered;
            Hovered = control;
            before?.StateChanged();
            control?.StateChanged();
        }
    }

    private void HideTip()
    {
        restSince = LastEventAt = clock();
        if (Tip is not null)
        {
            MarkDirty(tipPlace);
            Tip = null;
        }
    }
}
