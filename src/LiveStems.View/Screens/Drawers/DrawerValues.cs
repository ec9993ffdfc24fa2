using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>Values at the foot of a drawer, in two columns, with what they are of above them.</summary>
internal sealed class DrawerValues(AlbumDesk desk) : Control
{
    private const float NameUnits = 17;
    private const float ValueUnits = 23;
    private const float Gap = 10;

    private IReadOnlyList<ValueField> shown = [];
    private Func<string> name = () => string.Empty;

    /// <summary>Shows values; the same ones again cost nothing.</summary>
    public void Show(IReadOnlyList<ValueField> values, Func<string> called)
    {
        name = called;
        if (shown.SequenceEqual(values))
        {
            return;
        }

        shown = values;
        Clear();
        foreach (ValueField value in values)
        {
            Add(new ValueBox(new DeskValue(desk, value)));
        }
    }

    public override Extent Measure(ITextRuler ruler) => new(0, shown.Count == 0 ? 0 : NameUnits + (shown.Count + 1) / 2 * ValueUnits + 4);

    public override void Draw(Painter painter)
    {
        if (shown.Count > 0)
        {
            painter.Line(Bounds.X, Bounds.Y + 0.5f, Bounds.Right, Bounds.Y + 0.5f, Tone.Edge);
            painter.Text(name(), new(Bounds.X + 1, Bounds.Y + 2, Bounds.Width, NameUnits - 2), Tone.Quiet, Lettering.Small);
        }
    }

    protected override void ArrangeChildren(ITextRuler ruler)
    {
        float column = (Bounds.Width - Gap) / 2;
        for (int i = 0; i < Children.Count; i++)
        {
            Children[i].Arrange(new(Bounds.X + i % 2 * (column + Gap), Bounds.Y + NameUnits + i / 2 * ValueUnits, column, ValueUnits - 2), ruler);
        }
    }
}
