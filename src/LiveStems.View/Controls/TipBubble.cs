namespace LiveStems.View.Controls;

/// <summary>A sentence beside the pointer, on as many lines as it needs.</summary>
internal static class TipBubble
{
    private const float Widest = 300;
    private const float Margin = 8;
    private const float Below = 20;

    /// <summary>Where the bubble stands, inside the window.</summary>
    public static Box Around(ITextRuler ruler, string tip, (float X, float Y) pointer, Extent window)
    {
        List<string> lines = Lines(ruler, tip);
        float width = lines.Max(line => ruler.Width(line, Lettering.Plain)) + 2 * Margin;
        float height = lines.Count * ruler.LineHeight(Lettering.Plain) + 2 * Margin;
        float x = Math.Clamp(pointer.X, 2, Math.Max(2, window.Width - width - 2));
        float y = pointer.Y + Below + height <= window.Height ? pointer.Y + Below : pointer.Y - height - Margin;
        return new(x, Math.Max(2, y), width, height);
    }

    public static void Draw(Painter painter, string tip, in Box box)
    {
        painter.Fill(box, Tone.Lifted, radius: 3);
        painter.Frame(box, Tone.Edge, radius: 3);
        float height = painter.Fonts.LineHeight(Lettering.Plain);
        float y = box.Y + Margin;
        foreach (string line in Lines(painter.Fonts, tip))
        {
            painter.Text(line, new(box.X + Margin, y, box.Width, height), Tone.Text);
            y += height;
        }
    }

    /// <summary>The words on lines that are not too long.</summary>
    public static List<string> Lines(ITextRuler ruler, string text, float widest = Widest, Lettering lettering = Lettering.Plain)
    {
        List<string> lines = [];
        string line = string.Empty;
        foreach (string word in text.Split(' '))
        {
            string longer = line.Length == 0 ? word : $"{line} {word}";
            if (line.Length > 0 && ruler.Width(longer, lettering) > widest)
            {
                lines.Add(line);
                longer = word;
            }

            line = longer;
        }

        lines.Add(line);
        return lines;
    }
}
