using LiveStems.View.Controls;

namespace LiveStems.View.Screens.Drawers;

/// <summary>The lines of a drawer: arrows choose, Enter does, Delete takes away, Alt and arrows move.</summary>
/// <param name="chosen">Told which line the keyboard has gone to.</param>
/// <param name="tell">Takes what was refused, or null.</param>
internal sealed class DrawerList(Action<int> chosen, Action<string?> tell) : Control
{
    private const float WordsUnits = 15;
    private const float DetailUnits = 13;
    private const float Spare = 5;
    private const float MarkUnits = 18;

    private readonly List<Laid> laid = [];
    private IReadOnlyList<DrawerLine> lines = [];
    private float laidWidth;

    public int Chosen { get; private set; } = -1;

    public IReadOnlyList<DrawerLine> Lines => lines;

    /// <summary>Width that words are broken to.</summary>
    public float WidthUnits { get; set; } = 380;

    public override bool CanFocus => true;

    public override PointerShape PointerShape => PointerShape.Hand;

    public void Show(IReadOnlyList<DrawerLine> shown, bool isSamePage)
    {
        DrawerLine? before = isSamePage && Chosen >= 0 && Chosen < lines.Count ? lines[Chosen] : null;
        lines = shown;
        laidWidth = 0;
        Chosen = before is null ? -1 : Find(before);
        Host?.MarkLayout();
    }

    public override Extent Measure(ITextRuler ruler)
    {
        Lay(ruler);
        return new(WidthUnits, laid.Sum(each => each.Height));
    }

    public override void Draw(Painter painter)
    {
        Lay(painter.Fonts);
        float y = Bounds.Y;
        for (int i = 0; i < laid.Count; i++)
        {
            Box box = new(Bounds.X, y, Bounds.Width, laid[i].Height);
            y += laid[i].Height;
            if (Parent is not { } sight || box.Meets(sight.Bounds))
            {
                DrawLine(painter, i, box);
            }
        }
    }

    public override bool Press(in PointerEvent pointer)
    {
        int line = LineAt(pointer.Y);
        if (pointer.Button != PointerButton.Left || line < 0)
        {
            return false;
        }

        Go(line);
        Act();
        return false;
    }

    public override bool KeyDown(Key key, Modifiers modifiers)
    {
        if (modifiers == Modifiers.Alt && key is Key.Up or Key.Down && Chosen >= 0 && Chosen < lines.Count && lines[Chosen].Move is { } move)
        {
            tell(move(key == Key.Up ? -1 : 1));
            return true;
        }

        if (modifiers != Modifiers.None)
        {
            return false;
        }

        switch (key)
        {
            case Key.Up:
                return Step(-1);
            case Key.Down:
                return Step(1);
            case Key.Home when Chosen >= 0:
                Chosen = -1;
                return Step(1);
            case Key.End when Chosen >= 0:
                Chosen = lines.Count;
                return Step(-1);
            case Key.Enter or Key.PadEnter:
                Act();
                return true;
            case Key.Delete:
                // Never on to the commands: there it takes a processor out.
                Remove();
                return true;
            default:
                return false;
        }
    }

    /// <summary>Goes to the next line (1) or the one before (−1), past headings.</summary>
    public bool Step(int step)
    {
        for (int line = Chosen + step; line >= 0 && line < lines.Count; line += step)
        {
            if (!lines[line].IsHeading)
            {
                Go(line);
                break;
            }
        }

        return true;
    }

    // The line that was chosen, wherever it stands now; the one in its place when it is gone.
    private int Find(DrawerLine before)
    {
        for (int i = 0; i < lines.Count; i++)
        {
            bool isIt = before.About is null ? lines[i].Words == before.Words && lines[i].Aside == before.Aside : before.About.Equals(lines[i].About);
            if (isIt && !lines[i].IsHeading)
            {
                return i;
            }
        }

        int place = Math.Min(Chosen, lines.Count - 1);
        return place >= 0 && !lines[place].IsHeading ? place : -1;
    }

    private void Go(int line)
    {
        if (lines[line].IsHeading)
        {
            return;
        }

        Chosen = line;
        chosen(line);
        float top = Bounds.Y + laid.Take(line).Sum(each => each.Height);
        if (laid.Count > line)
        {
            (Parent as Scroll)?.Reveal(new(Bounds.X, top, Bounds.Width, laid[line].Height));
        }

        Redraw();
    }

    private void Act()
    {
        if (Chosen >= 0 && Chosen < lines.Count && lines[Chosen].Act is { } act)
        {
            tell(act());
        }
    }

    private void Remove()
    {
        if (Chosen >= 0 && Chosen < lines.Count)
        {
            tell(lines[Chosen].Remove is { } remove ? remove() : "Delete takes nothing away on this line");
        }
    }

    private int LineAt(float y)
    {
        float top = Bounds.Y;
        for (int i = 0; i < laid.Count; i++)
        {
            top += laid[i].Height;
            if (y < top)
            {
                return i;
            }
        }

        return -1;
    }

    private void DrawLine(Painter painter, int index, in Box box)
    {
        DrawerLine line = lines[index];
        Box inner = new(box.X + 9, box.Y + 2, box.Width - 18, box.Height);
        if (line.IsHeading)
        {
            painter.Text(line.Words, inner with { Y = box.Bottom - WordsUnits - 3, Height = WordsUnits }, Tone.Quiet, Lettering.Small);
            painter.Text(line.Aside, inner with { Y = box.Bottom - WordsUnits - 3, Height = WordsUnits }, Tone.Quiet, Lettering.Small, Side.Right);
            painter.Line(inner.X, box.Bottom - 2, inner.Right, box.Bottom - 2, Tone.Edge);
            return;
        }

        if (index == Chosen)
        {
            painter.Fill(box.Inset(1, 0), Tone.Raised, radius: 3);
            painter.Fill(new(box.X + 1, box.Y + 3, 3, box.Height - 6), HasFocus ? Tone.Focus : Tone.Output, radius: 1.5f);
        }

        if (line.IsOn is { } isOn)
        {
            Box mark = new(inner.X, inner.Y + 3, 10, 10);
            painter.Frame(mark, isOn ? Tone.Chosen : Tone.Quiet, 1.5f, 2);
            if (isOn)
            {
                painter.Fill(mark.Inset(3), Tone.Chosen, radius: 1);
            }
        }

        float left = inner.X + (line.IsOn is null ? 0 : MarkUnits);
        float y = inner.Y;
        foreach (string words in laid[index].Words)
        {
            painter.Text(words, new(left, y, inner.Right - left, WordsUnits), line.Tone);
            y += WordsUnits;
        }

        painter.Text(line.Aside, new(left, inner.Y, inner.Right - left, WordsUnits), line.Tone == Tone.Text ? Tone.Quiet : line.Tone, side: Side.Right);
        foreach (string words in laid[index].Detail)
        {
            painter.Text(words, new(left, y, inner.Right - left, DetailUnits), Tone.Quiet, Lettering.Small);
            y += DetailUnits;
        }
    }

    private void Lay(ITextRuler ruler)
    {
        if (laidWidth == WidthUnits && laid.Count == lines.Count)
        {
            return;
        }

        laidWidth = WidthUnits;
        laid.Clear();
        foreach (DrawerLine line in lines)
        {
            float width = WidthUnits - 18 - (line.IsOn is null ? 0 : MarkUnits);
            float aside = line.Aside.Length == 0 ? 0 : ruler.Width(line.Aside, Lettering.Plain) + 12;
            List<string> words = TipBubble.Lines(ruler, line.Words, Math.Max(80, width - aside));
            List<string> detail = line.Detail.Length == 0 ? [] : TipBubble.Lines(ruler, line.Detail, width, Lettering.Small);
            laid.Add(new(words, detail, line.IsHeading ? WordsUnits + 12 : words.Count * WordsUnits + detail.Count * DetailUnits + Spare));
        }
    }

    private sealed record Laid(List<string> Words, List<string> Detail, float Height);
}
