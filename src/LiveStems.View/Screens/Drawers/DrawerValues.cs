using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>Values at the foot of a drawer, in as many columns as there is room for, with what they are of above them.</summary>
internal sealed class DrawerValues(AlbumDesk desk) : Control
{
    private const float NameUnits = 17;
    private const float ValueUnits = 23;
    private const float Gap = 10;
    private const float ColumnUnits = 190;
    private const int FewestColumns = 2;
    private const int MostColumns = 4;

    private IReadOnlyList<ValueField> shown = [];
    private Func<string> name = () => string.Empty;

    /// <summary>Width that they are put into columns for.</summary>
    public float WidthUnits { get; set; } = 380;

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

    /// <summary>The height that they take.</summary>
    public float HeightUnits => shown.Count == 0 ? 0 : NameUnits + (shown.Count + ColumnsIn(WidthUnits) - 1) / ColumnsIn(WidthUnits) * ValueUnits + 4;

    /// <summary>The height of a single row, with what they are of; 0 without values.</summary>
    public float LeastUnits => Math.Min(HeightUnits, NameUnits + ValueUnits);

    public override Extent Measure(ITextRuler ruler) => new(WidthUnits, HeightUnits);

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
        int columns = ColumnsIn(WidthUnits);
        float column = (Bounds.Width + Gap) / columns - Gap;
        for (int i = 0; i < Children.Count; i++)
        {
            Children[i].Arrange(new(Bounds.X + i % columns * (column + Gap), Bounds.Y + NameUnits + i / columns * ValueUnits, column, ValueUnits - 2), ruler);
        }
    }

    private static int ColumnsIn(float width) => Math.Clamp((int)((width + Gap) / (ColumnUnits + Gap)), FewestColumns, MostColumns);
}
