namespace LiveStems.View.Controls;

/// <summary>A line of text being typed: caret, selection of all, clipboard.</summary>
internal sealed class TextLine
{
    private int caret;
    private bool allChosen;

    public string Text { get; private set; } = string.Empty;

    /// <summary>Begins with a text, all of it chosen.</summary>
    public void Start(string text)
    {
        Text = text;
        caret = text.Length;
        allChosen = text.Length > 0;
    }

    /// <summary>Leaves nothing chosen, so that the next character is added.</summary>
    public void Collapse() => allChosen = false;

    public void Insert(string text)
    {
        DropChosen();
        Text = Text.Insert(caret, text);
        caret += text.Length;
    }

    public bool KeyDown(Key key, Modifiers modifiers, ControlHost? host)
    {
        if (modifiers == Modifiers.Control)
        {
            return Clip(key, host);
        }

        if (modifiers is not (Modifiers.None or Modifiers.Shift))
        {
            return false;
        }

        switch (key)
        {
            case Key.Left:
                caret = allChosen ? 0 : Math.Max(0, caret - 1);
                break;
            case Key.Right:
                caret = allChosen ? Text.Length : Math.Min(Text.Length, caret + 1);
                break;
            case Key.Home:
                caret = 0;
                break;
            case Key.End:
                caret = Text.Length;
                break;
            case Key.Backspace:
                if (!DropChosen() && caret > 0)
                {
                    Text = Text.Remove(--caret, 1);
                }

                return true;
            case Key.Delete:
                if (!DropChosen() && caret < Text.Length)
                {
                    Text = Text.Remove(caret, 1);
                }

                return true;
            default:
                return false;
        }

        allChosen = false;
        return true;
    }

    public void Draw(Painter painter, in Box box, Tone tone)
    {
        float before = painter.Fonts.Measure(painter.Fonts.Written(Text[..caret]), Lettering.Plain);
        float whole = painter.Fonts.Width(Text, Lettering.Plain);
        if (allChosen)
        {
            painter.Fill(new(box.X, box.Y + 3, whole, box.Height - 6), Tone.Focus, 0.3f);
        }

        painter.Text(Text, box, tone);
        painter.Line(box.X + before + 0.5f, box.Y + 4, box.X + before + 0.5f, box.Bottom - 4, Tone.Focus, 1.5f);
    }

    private bool Clip(Key key, ControlHost? host)
    {
        switch (key)
        {
            case Key.A:
                allChosen = true;
                return true;
            case Key.C or Key.X when host is not null:
                host.Clipboard = Text;
                if (key == Key.X)
                {
                    Start(string.Empty);
                }

                return true;
            case Key.V when host is not null:
                Insert(host.Clipboard.ReplaceLineEndings(" "));
                return true;
            default:
                return false;
        }
    }

    private bool DropChosen()
    {
        if (!allChosen)
        {
            return false;
        }

        Text = string.Empty;
        caret = 0;
        allChosen = false;
        return true;
    }
}
