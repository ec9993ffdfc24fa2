namespace LiveStems.View.Controls;

/// <summary>What stands in the list of keys.</summary>
internal sealed record KeyLine(string Group, string Keys, string Words);

/// <summary>All keys on one page.</summary>
internal sealed class KeyOverlay(IReadOnlyList<KeyLine> keys) : Control
{
    private const float LineUnits = 18;
    private const float BesideKeysUnits = 14;
    private const float BesideWordsUnits = 22;
    private const float HeadUnits = 44;

    private int firstColumn;
    private int mostColumns;

    public override bool CanFocus => true;

    public override void Draw(Painter painter)
    {
        painter.Fill(Bounds, Tone.Ground, 0.97f);
        Box page = Bounds.Inset(36, 28);
        // As few columns as hold all lines, and none narrower than its longest line.
        float keysUnits = keys.Max(line => painter.Fonts.Width(line.Keys, Lettering.Plain)) + BesideKeysUnits;
        float lineUnits = keysUnits + keys.Max(line => painter.Fonts.Width(line.Words, Lettering.Plain)) + BesideWordsUnits;
        int columns = Math.Max(1, (int)(page.Width / lineUnits));
        while (columns > 1 && Columns(page.Bottom - page.Y - HeadUnits) < columns)
        {
            columns--;
        }

        mostColumns = Math.Max(0, Columns(page.Bottom - page.Y - HeadUnits) - columns);
        firstColumn = Math.Min(firstColumn, mostColumns);
        painter.Text("Keys", new(page.X, page.Y, 300, 26), Tone.Text, Lettering.Large);
        painter.Text(mostColumns > 0 ? "Esc closes · Right and Left, or the wheel, go on and back" : "Esc closes · / finds any command by its words · Tab goes from control to control, arrows move values", new(page.X + 70, page.Y + 3, page.Width - 70, 22), Tone.Quiet);
        float columnUnits = page.Width / columns;
        float x = page.X - firstColumn * columnUnits;
        float y = page.Y + HeadUnits;
        foreach (IGrouping<string, KeyLine> group in keys.GroupBy(line => line.Group))
        {
            if (y + (group.Count() + 1) * LineUnits > page.Bottom && y > page.Y + HeadUnits)
            {
                x += columnUnits;
                y = page.Y + HeadUnits;
            }

            if (x < page.X - 1 || x + columnUnits > page.Right + 1)
            {
                y += (group.Count() + 1) * LineUnits + 2 + LineUnits * 0.6f;
                continue;
            }

            painter.Text(group.Key, new(x, y, columnUnits - 20, LineUnits), Tone.Output, Lettering.Strong);
            y += LineUnits + 2;
            foreach (KeyLine line in group)
            {
                painter.Text(line.Keys, new(x, y, keysUnits - 6, LineUnits), Tone.Listen);
                painter.Text(line.Words, new(x + keysUnits, y, columnUnits - keysUnits - 16, LineUnits), Tone.Text);
                y += LineUnits;
            }

            y += LineUnits * 0.6f;
        }
    }

    // How many columns the groups take, none of them parted.
    private int Columns(float height)
    {
        int columns = 1;
        float y = 0;
        foreach (int lines in keys.GroupBy(line => line.Group).Select(group => group.Count()))
        {
            float wanted = (lines + 1) * LineUnits;
            if (y > 0 && y + wanted > height)
            {
                columns++;
                y = 0;
            }

            y += wanted + 2 + LineUnits * 0.6f;
        }

        return columns;
    }

    public override bool Press(in PointerEvent pointer)
    {
        Host?.Close(this);
        return false;
    }

    public override bool KeyDown(Key key, Modifiers modifiers)
    {
        if (key is Key.Left or Key.Right)
        {
            Turn(key == Key.Right ? 1 : -1);
            return true;
        }

        if (key is Key.Enter or Key.Space)
        {
            Host?.Close(this);
            return true;
        }

        return false;
    }

    public override bool Wheel(in PointerEvent pointer, float notches)
    {
        Turn(notches < 0 ? 1 : -1);
        return true;
    }

    private void Turn(int columns)
    {
        firstColumn = Math.Clamp(firstColumn + columns, 0, mostColumns);
        Redraw();
    }

    public override bool Type(string text)
    {
        Host?.Close(this);
        return true;
    }
}
