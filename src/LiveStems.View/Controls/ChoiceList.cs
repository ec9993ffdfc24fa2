namespace LiveStems.View.Controls;

/// <summary>A line of a list.</summary>
/// <param name="Words">What it is.</param>
/// <param name="Aside">What stands at its right, quieter.</param>
internal readonly record struct ChoiceLine(string Words, string Aside);

/// <summary>Lines of which one is chosen, by pointer or arrow keys.</summary>
internal sealed class ChoiceList(Action<int> accepted) : Control
{
    private const float LineUnits = 24;

    private IReadOnlyList<ChoiceLine> lines = [];
    private int chosen;

    public int Chosen => chosen;

    public override PointerShape PointerShape => PointerShape.Hand;

    public void Show(IReadOnlyList<ChoiceLine> shown, int first = 0)
    {
        lines = shown;
        chosen = Math.Clamp(first, 0, Math.Max(0, shown.Count - 1));
        Host?.MarkLayout();
    }

    public void Step(int steps)
    {
        chosen = Math.Clamp(chosen + steps, 0, Math.Max(0, lines.Count - 1));
        (Parent as Scroll)?.Reveal(LineBox(chosen));
        Redraw();
    }

    public void Accept()
    {
        if (chosen < lines.Count)
        {
            accepted(chosen);
        }
    }

    public override Extent Measure(ITextRuler ruler) => new(200, lines.Count * LineUnits);

    public override void Draw(Painter painter)
    {
        for (int i = 0; i < lines.Count; i++)
        {
            Box box = LineBox(i);
            if (i == chosen)
            {
                painter.Fill(box, Tone.Raised, radius: 3);
                painter.Fill(new(box.X, box.Y + 3, 3, box.Height - 6), Tone.Output, radius: 1.5f);
            }

            float aside = painter.Fonts.Width(lines[i].Aside, Lettering.Plain);
            Box words = new(box.X + 10, box.Y, box.Width - aside - 28, box.Height);
            // A long sentence is written smaller rather than cut.
            painter.Text(lines[i].Words, words, Tone.Text, painter.Fonts.Width(lines[i].Words, Lettering.Plain) <= words.Width ? Lettering.Plain : Lettering.Small);
            painter.Text(lines[i].Aside, box.Inset(8, 0), Tone.Quiet, side: Side.Right);
        }
    }

    public override void Hover(in PointerEvent pointer)
    {
        int under = (int)((pointer.Y - Bounds.Y) / LineUnits);
        if (under != chosen && under >= 0 && under < lines.Count)
        {
            chosen = under;
            Redraw();
        }
    }

    public override bool Press(in PointerEvent pointer)
    {
        Hover(pointer);
        Accept();
        return false;
    }

    private Box LineBox(int index) => new(Bounds.X, Bounds.Y + index * LineUnits, Bounds.Width, LineUnits);
}
