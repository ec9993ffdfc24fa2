using LiveStems.View.Window;

namespace LiveStems.View.Controls;

/// <summary>
/// The controls of a window: takes what happens to the window, lays out, and collects what is to be drawn again. Pointer,
/// keyboard and tips have classes of their own.
/// </summary>
internal sealed class ControlHost : IWindowEvents
{
    private readonly ITextRuler ruler;
    private readonly Func<double> clock;
    private readonly List<Control> overlays = [];
    private readonly PointerRouter pointer;
    private readonly KeyRouter keyboard;
    private readonly TipWatch tip = new();
    private Modifiers held;
    private bool needsLayout = true;
    private Extent size;

    /// <param name="root">What fills the window.</param>
    /// <param name="keys">What the keys do.</param>
    /// <param name="ruler">How long words are.</param>
    /// <param name="clock">Seconds, from any start.</param>
    public ControlHost(Control root, IKeyCommands keys, ITextRuler ruler, Func<double> clock)
    {
        Root = root;
        this.ruler = ruler;
        this.clock = clock;
        pointer = new PointerRouter(this);
        keyboard = new KeyRouter(this, keys);
        root.OwnHost = this;
    }

    public Control Root { get; }

    /// <summary>What stands above the rest, the uppermost last; it alone gets the pointer and the keyboard.</summary>
    public IReadOnlyList<Control> Overlays => overlays;

    public Control? Focus => keyboard.Focus;

    public Control? Hovered => pointer.Hovered;

    /// <summary>The control that follows the pressed pointer, or null.</summary>
    public Control? Pressed => pointer.Pressed;

    /// <summary>Pixels in a logical unit.</summary>
    public float Scale { get; private set; } = 1;

    /// <summary>What is to be drawn again, in logical units, once laid out.</summary>
    public DirtyArea Dirty { get; } = new();

    /// <summary>Where the pointer is.</summary>
    public (float X, float Y) Pointer => pointer.At;

    /// <summary>The sentence to show beside the pointer, or null.</summary>
    public string? Tip => tip.Words;

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

    /// <summary>The outermost control that pointer and keyboard can reach.</summary>
    internal Control Reach => overlays.Count > 0 ? overlays[^1] : Root;

    /// <summary>A control and those around it, from the inside out.</summary>
    internal static IEnumerable<Control> Ancestry(Control? control)
    {
        for (; control is not null; control = control.Parent)
        {
            yield return control;
        }
    }

    /// <summary>Takes the size of the window in pixels and the scale.</summary>
    public void SetSize(int widthPixels, int heightPixels, float scale)
    {
        Scale = scale;
        size = new(widthPixels / scale, heightPixels / scale);
        MarkLayout();
    }

    public void MarkLayout() => needsLayout = true;

    public void MarkDirty(in Box box) => Dirty.Add(box.Common(new(0, 0, size.Width, size.Height)));

    /// <summary>Lays out where something changed; true when it did.</summary>
    public bool Layout()
    {
        if (!needsLayout)
        {
            return false;
        }

        needsLayout = false;
        Box all = new(0, 0, size.Width, size.Height);
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

        tip.Draw(painter);
    }

    /// <summary>Shows the tip when the pointer has rested long enough; to be called every frame.</summary>
    public void Tick()
    {
        if (!pointer.IsPressed && Hovered is not null && tip.Look(Hovered, Pointer, clock(), ruler, size))
        {
            MarkDirty(tip.Place);
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

    public void SetFocus(Control? control) => keyboard.SetFocus(control);

    /// <summary>The keyboard goes on to the next control that takes it, or the one before.</summary>
    public void MoveFocus(int step) => keyboard.MoveFocus(step);

    /// <summary>Something has left the window.</summary>
    public void Forget(Control control)
    {
        keyboard.Forget(control);
        pointer.Forget(control);
    }

    public void PointerMoved(float x, float y)
    {
        HideTip();
        pointer.Move(x / Scale, y / Scale, held);
    }

    public void PointerLeft()
    {
        HideTip();
        pointer.Leave();
    }

    public void ButtonPressed(PointerButton button, Modifiers modifiers)
    {
        held = modifiers;
        HideTip();
        pointer.Press(button, held, clock());
    }

    public void ButtonReleased(PointerButton button, Modifiers modifiers)
    {
        held = modifiers;
        HideTip();
        pointer.Release(button, held);
    }

    public void WheelTurned(float right, float up)
    {
        HideTip();
        pointer.Turn(right, up, held);
    }

    public void KeyPressed(Key key, Modifiers modifiers, bool isRepeat)
    {
        held = modifiers;
        HideTip();
        keyboard.Press(key, modifiers, isRepeat);
    }

    public void KeyReleased(Key key, Modifiers modifiers) => held = modifiers;

    /// <summary>A character: for who types, or else a command.</summary>
    public void TextTyped(string text) => keyboard.Type(text, held);

    public void FilesDropped(IReadOnlyList<string> paths) => Dropped(paths);

    public void FocusLost() => pointer.Drop(held);

    public void PictureLost()
    {
        LastEventAt = clock();
        MarkLayout();
    }

    private static void Draw(Control control, Painter painter, in Box box)
    {
        if (!control.IsVisible || control.Bounds.IsEmpty || !control.Bounds.Meets(box))
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

    private void HideTip()
    {
        LastEventAt = clock();
        if (tip.Hide(LastEventAt))
        {
            MarkDirty(tip.Place);
        }
    }
}
