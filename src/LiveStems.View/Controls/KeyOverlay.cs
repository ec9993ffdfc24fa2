namespace LiveStems.View.Controls;

/// <summary>What stands in the list of keys.</summary>
internal sealed record KeyLine(string Group, string Keys, string Words);

/// <summary>All keys, in as many columns as there is room for; the others are turned to.</summary>
internal sealed class KeyOverlay(IReadOnlyList<KeyLine> keys) : Control
{
    private const float LineUnits = 18;
    private const float HeadingUnits = 20;
    private const float BetweenGroupsUnits = 11;
    private const float BesideKeysUnits = 14;
    private const float BesideWordsUnits = 22;
    private const float HeadUnits = 44;
    private const float WidestMargin = 36;
    private const float TallestMargin = 28;
    private const float MarginShare = 0.05f;

    private int firstColumn;
    private int mostColumns;

    public override bool CanFocus => true;

    public override void Draw(Painter painter)
    {
        painter.Fill(Bounds, Tone.Ground, 0.97f);
        Box page = Bounds.Inset(Math.Min(WidestMargin, Bounds.Width * MarginShare), Math.Min(TallestMargin, Bounds.Height * MarginShare));
        // As few columns as hold all lines, and none narrower than its longest line.
        float keysUnits = keys.Max(line => painter.Fonts.Width(line.Keys, Lettering.Plain)) + BesideKeysUnits;
        float lineUnits = keysUnits + keys.Max(line => painter.Fonts.Width(line.Words, Lettering.Plain)) + BesideWordsUnits;
        List<Placed> placed = Place(page.Height - HeadUnits);
        int all = placed.Count == 0 ? 0 : placed[^1].Column + 1;
        int columns = Math.Clamp((int)(page.Width / lineUnits), 1, Math.Max(1, all));
        mostColumns = Math.Max(0, all - columns);
        firstColumn = Math.Min(firstColumn, mostColumns);
        DrawHead(painter, page);
        float columnUnits = page.Width / columns;
        foreach (Placed each in placed.Where(each => each.Column >= firstColumn && each.Column < firstColumn + columns))
        {
            float x = page.X + (each.Column - firstColumn) * columnUnits;
            float y = page.Y + HeadUnits + each.Y;
            if (each.Line is { } line)
            {
                painter.Text(line.Keys, new(x, y, keysUnits - 6, LineUnits), Tone.Listen);
                float room = columnUnits - keysUnits - 16;
                painter.Text(line.Words, new(x + keysUnits, y, room, LineUnits), Tone.Text, painter.Fonts.Width(line.Words, Lettering.Plain) <= room ? Lettering.Plain : Lettering.Small);
            }
            else
            {
                painter.Text(each.Heading, new(x, y, columnUnits - 20, LineUnits), Tone.Output, Lettering.Strong);
            }
        }
    }

    private void DrawHead(Painter painter, in Box page)
    {
        string words = mostColumns > 0 ? "Esc closes · Right and Left, or the wheel, go on and back" : "Esc closes · / finds any command by its words · Tab goes from control to control, arrows move values";
        painter.Text("Keys", new(page.X, page.Y, 70, 26), Tone.Text, Lettering.Large);
        bool isBeside = painter.Fonts.Width(words, Lettering.Plain) <= page.Width - 70;
        painter.Text(words, isBeside ? new(page.X + 70, page.Y + 3, page.Width - 70, 22) : new(page.X, page.Y + 23, page.Width, 18), Tone.Quiet, isBeside ? Lettering.Plain : Lettering.Small);
    }

    // Groups stay whole where a column holds them; the others go on in the next, below their heading again.
    private List<Placed> Place(float height)
    {
        List<Placed> placed = [];
        int column = 0;
        float y = 0;
        foreach (IGrouping<string, KeyLine> group in keys.GroupBy(line => line.Group))
        {
            float whole = HeadingUnits + group.Count() * LineUnits;
            // Of a group that no column holds, two lines below the heading are enough to begin with.
            if (y > 0 && y + (whole <= height ? whole : HeadingUnits + 2 * LineUnits) > height)
            {
                (column, y) = (column + 1, 0);
            }

            placed.Add(new(column, y, group.Key, null));
            y += HeadingUnits;
            foreach (KeyLine line in group)
            {
                if (y > HeadingUnits && y + LineUnits > height)
                {
                    column++;
                    placed.Add(new(column, 0, group.Key, null));
                    y = HeadingUnits;
                }

                placed.Add(new(column, y, group.Key, line));
                y += LineUnits;
            }

            y += BetweenGroupsUnits;
        }

        return placed;
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

    private readonly record struct Placed(int Column, float Y, string Heading, KeyLine? Line);
}
