namespace LiveStems.View.Controls;

/// <summary>Two controls, one above the other or side by side, with an edge between them to drag or to move by arrow keys.</summary>
internal sealed class Splitter : Control
{
    private const float Gap = 6;
    private const float KeyStep = 0.02f;

    private readonly Control first;
    private readonly Control second;
    private readonly bool isRow;
    private readonly float smallest;

    /// <param name="isRow">True for side by side.</param>
    /// <param name="first">Left or above.</param>
    /// <param name="second">Right or below.</param>
    /// <param name="share">Share of the first at the start.</param>
    /// <param name="smallest">Units that each keeps at least.</param>
    public Splitter(bool isRow, Control first, Control second, float share, float smallest = 80)
    {
        this.isRow = isRow;
        this.first = Add(first);
        this.second = Add(second);
        this.smallest = smallest;
        Share = share;
    }

    /// <summary>Share of the first.</summary>
    public float Share { get; private set; }

    public override bool CanFocus => true;

    public override bool TakesFocusAt(float x, float y) => Edge.Contains(x, y);

    public override PointerShape PointerShape => isRow ? PointerShape.LeftRight : PointerShape.UpDown;

    private Box Edge => isRow
        ? Box.Between(first.Bounds.Right, Bounds.Y, second.Bounds.X, Bounds.Bottom)
        : Box.Between(Bounds.X, first.Bounds.Bottom, Bounds.Right, second.Bounds.Y);

    public override void Draw(Painter painter)
    {
        if (HasFocus || IsHovered)
        {
            painter.Fill(Edge.Inset(isRow ? 2 : 0, isRow ? 0 : 2), HasFocus ? Tone.Focus : Tone.Edge, radius: 1);
        }
    }

    public override bool Press(in PointerEvent pointer) => Edge.Contains(pointer.X, pointer.Y);

    public override void Drag(in PointerEvent pointer) =>
        SetShare(isRow ? (pointer.X - Bounds.X) / Bounds.Width : (pointer.Y - Bounds.Y) / Bounds.Height);

    public override bool KeyDown(Key key, Modifiers modifiers)
    {
        if (!HasFocus || modifiers != Modifiers.None || key != (isRow ? Key.Left : Key.Up) && key != (isRow ? Key.Right : Key.Down))
        {
            return false;
        }

        SetShare(Share + (key is Key.Left or Key.Up ? -KeyStep : KeyStep));
        return true;
    }

    public void SetShare(float share)
    {
        Share = Math.Clamp(share, 0, 1);
        Host?.MarkLayout();
    }

    protected override void ArrangeChildren(ITextRuler ruler)
    {
        float whole = isRow ? Bounds.Width : Bounds.Height;
        float length = MathF.Round(Math.Clamp(whole * Share, Math.Min(smallest, whole / 2), Math.Max(whole / 2, whole - smallest)) - Gap / 2);
        if (isRow)
        {
            first.Arrange(new(Bounds.X, Bounds.Y, length, Bounds.Height), ruler);
            second.Arrange(Box.Between(Bounds.X + length + Gap, Bounds.Y, Bounds.Right, Bounds.Bottom), ruler);
        }
        else
        {
            first.Arrange(new(Bounds.X, Bounds.Y, Bounds.Width, length), ruler);
            second.Arrange(Box.Between(Bounds.X, Bounds.Y + length + Gap, Bounds.Right, Bounds.Bottom), ruler);
        }
    }
}
