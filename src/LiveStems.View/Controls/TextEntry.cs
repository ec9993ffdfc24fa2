namespace LiveStems.View.Controls;

/// <summary>A field for one line of words.</summary>
internal sealed class TextEntry(Func<string> hint) : Control
{
    private readonly TextLine line = new();

    public TextEntry(string hint)
        : this(() => hint)
    {
    }

    /// <summary>Something was typed.</summary>
    public Action<string> Changed { get; set; } = _ => { };

    /// <summary>Enter was pressed.</summary>
    public Action<string> Accepted { get; set; } = _ => { };

    public string Text => line.Text;

    public override bool CanFocus => true;

    public override bool TakesText => true;

    public override PointerShape PointerShape => PointerShape.Text;

    public void Start(string text)
    {
        line.Start(text);
        Redraw();
    }

    public override Extent Measure(ITextRuler ruler) => new(160, 26);

    public override void Draw(Painter painter)
    {
        painter.Fill(Bounds, Tone.Well, radius: 3);
        painter.Frame(Bounds, HasFocus ? Tone.Focus : Tone.Edge, HasFocus ? 1.5f : 1, 3);
        if (line.Text.Length == 0)
        {
            painter.Text(hint(), Bounds.Inset(9, 0), Tone.Quiet);
        }

        if (HasFocus)
        {
            line.Draw(painter, Bounds.Inset(8, 0), Tone.Text);
        }
        else
        {
            painter.Text(line.Text, Bounds.Inset(8, 0), Tone.Text);
        }
    }

    public override bool Press(in PointerEvent pointer) => true;

    public override bool Type(string text)
    {
        line.Insert(text);
        Changed(line.Text);
        Redraw();
        return true;
    }

    public override bool KeyDown(Key key, Modifiers modifiers)
    {
        if (key is Key.Enter or Key.PadEnter && modifiers == Modifiers.None)
        {
            Accepted(line.Text);
            return true;
        }

        string before = line.Text;
        if (!line.KeyDown(key, modifiers, Host))
        {
            return false;
        }

        if (line.Text != before)
        {
            Changed(line.Text);
        }

        Redraw();
        return true;
    }
}
