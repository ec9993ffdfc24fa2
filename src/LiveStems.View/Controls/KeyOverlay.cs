namespace LiveStems.View.Controls;

/// <summary>What stands in the list of keys.</summary>
internal sealed record KeyLine(string Group, string Keys, string Words);

/// <summary>All keys on one page.</summary>
internal sealed class KeyOverlay(IReadOnlyList<KeyLine> keys) : Control
{
    private const float LineUnits = 18;
    private const float ColumnUnits = 304;
    private const float KeysUnits = 104;

    public override bool CanFocus => true;

    public override void Draw(Painter painter)
    {
        painter.Fill(Bounds, Tone.Ground, 0.97f);
        Box page = Bounds.Inset(36, 28);
        painter.Text("Keys", new(page.X, page.Y, 300, 26), Tone.Text, Lettering.Large);
        painter.Text("Esc closes · / finds any command by its words · Tab goes from control to control, arrows move values", new(page.X + 70, page.Y + 3, page.Width - 70, 22), Tone.Quiet);
        float x = page.X;
        float y = page.Y + 44;
        foreach (IGrouping<string, KeyLine> group in keys.GroupBy(line => line.Group))
        {
            if (y + (group.Count() + 1) * LineUnits > page.Bottom && y > page.Y + 44)
            {
                x += ColumnUnits;
                y = page.Y + 44;
            }

            painter.Text(group.Key, new(x, y, ColumnUnits - 20, LineUnits), Tone.Output, Lettering.Strong);
            y += LineUnits + 2;
            foreach (KeyLine line in group)
            {
                painter.Text(line.Keys, new(x, y, KeysUnits - 6, LineUnits), Tone.Listen);
                painter.Text(line.Words, new(x + KeysUnits, y, ColumnUnits - KeysUnits - 16, LineUnits), Tone.Text);
                y += LineUnits;
            }

            y += LineUnits * 0.6f;
        }
    }

    public override bool Press(in PointerEvent pointer)
    {
        Host?.Close(this);
        return false;
    }

    public override bool KeyDown(Key key, Modifiers modifiers)
    {
        if (key is Key.Enter or Key.Space)
        {
            Host?.Close(this);
            return true;
        }

        return false;
    }

    public override bool Type(string text)
    {
        Host?.Close(this);
        return true;
    }
}
