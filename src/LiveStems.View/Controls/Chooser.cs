namespace LiveStems.View.Controls;

/// <summary>An overlay with lines to choose from; typing narrows them down. Commands, processors, presets, folders are found with it.</summary>
internal sealed class Chooser : Control
{
    private const float WidestUnits = 700;
    private const float LowestTop = 70;
    private const float Beside = 24;
    private const float Tallest = 430;

    private readonly TextEntry entry;
    private readonly ChoiceList list;
    private readonly Scroll scroll;
    private readonly Func<string, IReadOnlyList<ChoiceLine>> search;
    private readonly string title;
    private int count;

    /// <param name="title">What is chosen.</param>
    /// <param name="hint">What to type.</param>
    /// <param name="search">The lines for what was typed.</param>
    /// <param name="chosen">Takes the index of the line chosen among those of the latest search.</param>
    public Chooser(string title, string hint, Func<string, IReadOnlyList<ChoiceLine>> search, Action<int> chosen)
    {
        this.title = title;
        this.search = search;
        list = new ChoiceList(index =>
        {
            Host?.Close(this);
            chosen(index);
        });
        entry = Add(new TextEntry(hint) { Changed = Fill, Accepted = _ => list.Accept() });
        scroll = Add(new Scroll(list));
        Fill(string.Empty);
    }

    private Box Card
    {
        get
        {
            float width = Math.Min(WidestUnits, Bounds.Width - 2 * Beside);
            float top = Math.Min(LowestTop, Bounds.Height / 10);
            float height = Math.Min(Math.Min(Tallest, Bounds.Height - top - Beside), 78 + Math.Max(24, count * 24));
            return new(Bounds.CentreX - width / 2, top, width, height);
        }
    }

    public override void Draw(Painter painter)
    {
        painter.Fill(Bounds, Tone.Ground, 0.55f);
        painter.Fill(Card, Tone.Panel, radius: 5);
        painter.Frame(Card, Tone.Edge, radius: 5);
        painter.Text(title, new(Card.X + 14, Card.Y + 8, Card.Width - 28, 20), Tone.Quiet);
        if (count == 0)
        {
            painter.Text("nothing fits", new(Card.X + 14, Card.Y + 70, Card.Width - 28, 20), Tone.Quiet);
        }
    }

    public override bool Press(in PointerEvent pointer)
    {
        if (!Card.Contains(pointer.X, pointer.Y))
        {
            Host?.Close(this);
        }

        return true;
    }

    public override bool KeyDown(Key key, Modifiers modifiers)
    {
        if (key is Key.Up or Key.Down or Key.PageUp or Key.PageDown && modifiers == Modifiers.None)
        {
            list.Step(key switch { Key.Up => -1, Key.Down => 1, Key.PageUp => -10, _ => 10 });
            return true;
        }

        return false;
    }

    protected override void ArrangeChildren(ITextRuler ruler)
    {
        entry.Arrange(new(Card.X + 12, Card.Y + 32, Card.Width - 24, 28), ruler);
        scroll.Arrange(Box.Between(Card.X + 12, Card.Y + 66, Card.Right - 12, Card.Bottom - 10), ruler);
    }

    private void Fill(string typed)
    {
        IReadOnlyList<ChoiceLine> lines = search(typed);
        count = lines.Count;
        list.Show(lines);
    }
}
