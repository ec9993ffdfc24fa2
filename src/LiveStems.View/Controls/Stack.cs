namespace LiveStems.View.Controls;

/// <summary>How long a control is along its row or column.</summary>
/// <param name="Fixed">Logical units, or NaN to be as long as it likes.</param>
/// <param name="Share">Share of what is left; 0 for none.</param>
internal readonly record struct Length(float Fixed, float Share)
{
    /// <summary>As long as it likes to be.</summary>
    public static Length Fit => new(float.NaN, 0);

    public static Length Of(float units) => new(units, 0);

    /// <summary>A share of what the others leave.</summary>
    public static Length Rest(float share = 1) => new(0, share);
}

/// <summary>Controls in a row or a column.</summary>
internal class Stack(bool isRow, float gap = 0, float padding = 0) : Control
{
    private readonly List<Length> lengths = [];

    /// <summary>The surface behind it, or null for none.</summary>
    public Tone? Surface { get; set; }

    public static Stack Row(float gap = 0, float padding = 0) => new(true, gap, padding);

    public static Stack Column(float gap = 0, float padding = 0) => new(false, gap, padding);

    public T Add<T>(T child, Length length)
        where T : Control
    {
        lengths.Add(length);
        return Add(child);
    }

    /// <summary>Changes what is left free between the children and around them.</summary>
    public void SetSpace(float between, float around)
    {
        if ((gap, padding) != (between, around))
        {
            (gap, padding) = (between, around);
            Host?.MarkLayout();
        }
    }

    public new void Clear()
    {
        lengths.Clear();
        base.Clear();
    }

    /// <summary>Changes how long a child is.</summary>
    public void SetLength(int index, Length length)
    {
        // A length that fits is not a number, and equal to itself all the same.
        if (!lengths[index].Equals(length))
        {
            lengths[index] = length;
            Host?.MarkLayout();
        }
    }

    public override Extent Measure(ITextRuler ruler)
    {
        float along = 0;
        float across = 0;
        int shown = 0;
        for (int i = 0; i < Children.Count; i++)
        {
            if (!Children[i].IsVisible)
            {
                continue;
            }

            Extent wanted = Children[i].Measure(ruler);
            along += float.IsNaN(lengths[i].Fixed) || lengths[i].Share > 0 ? Along(wanted) : lengths[i].Fixed;
            across = Math.Max(across, isRow ? wanted.Height : wanted.Width);
            shown++;
        }

        along += Math.Max(0, shown - 1) * gap + 2 * padding;
        across += 2 * padding;
        return isRow ? new(along, across) : new(across, along);
    }

    public override void Draw(Painter painter)
    {
        if (Surface is { } surface)
        {
            painter.Fill(Bounds, surface);
        }
    }

    protected override void ArrangeChildren(ITextRuler ruler)
    {
        Box inner = Bounds.Inset(padding);
        Span<float> taken = stackalloc float[Children.Count];
        float left = isRow ? inner.Width : inner.Height;
        float shares = 0;
        int shown = 0;
        for (int i = 0; i < Children.Count; i++)
        {
            if (!Children[i].IsVisible)
            {
                continue;
            }

            taken[i] = float.IsNaN(lengths[i].Fixed) ? MathF.Ceiling(Along(Children[i].Measure(ruler))) : lengths[i].Fixed;
            left -= taken[i] + (shown++ > 0 ? gap : 0);
            shares += lengths[i].Share;
        }

        float at = isRow ? inner.X : inner.Y;
        for (int i = 0; i < Children.Count; i++)
        {
            if (!Children[i].IsVisible)
            {
                continue;
            }

            float length = lengths[i].Share > 0 ? MathF.Round(Math.Max(0, left) * lengths[i].Share / shares) : taken[i];
            Children[i].Arrange(isRow ? new(at, inner.Y, length, inner.Height) : new(inner.X, at, inner.Width, length), ruler);
            at += length + gap;
        }
    }

    private float Along(Extent extent) => isRow ? extent.Width : extent.Height;
}
