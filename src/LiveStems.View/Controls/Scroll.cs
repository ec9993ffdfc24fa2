namespace LiveStems.View.Controls;

/// <summary>Shows a part of something higher than its place; the wheel moves it, and so does the keyboard coming to a part out of sight.</summary>
internal sealed class Scroll : Control
{
    private const float NotchUnits = 44;
    private const float BarWidth = 5;

    private readonly Control content;
    private float contentHeight;
    private float offset;

    public Scroll(Control content) => this.content = Add(content);

    public override bool ClipsChildren => true;

    public override Extent Measure(ITextRuler ruler) => content.Measure(ruler);

    public override bool Wheel(in PointerEvent pointer, float notches)
    {
        if (contentHeight <= Bounds.Height)
        {
            return false;
        }

        MoveTo(offset - notches * NotchUnits);
        return true;
    }

    /// <summary>Moves so that a part is in sight.</summary>
    public void Reveal(in Box part)
    {
        if (part.Y < Bounds.Y)
        {
            MoveTo(offset - (Bounds.Y - part.Y));
        }
        else if (part.Bottom > Bounds.Bottom)
        {
            MoveTo(offset + part.Bottom - Bounds.Bottom);
        }
    }

    public override void DrawOver(Painter painter)
    {
        if (contentHeight <= Bounds.Height)
        {
            return;
        }

        float share = Bounds.Height / contentHeight;
        float y = Bounds.Y + Bounds.Height * offset / contentHeight;
        painter.Fill(new(Bounds.Right - BarWidth, y + 1, BarWidth - 2, Bounds.Height * share - 2), Tone.Edge, radius: 1.5f);
    }

    protected override void ArrangeChildren(ITextRuler ruler)
    {
        contentHeight = content.Measure(ruler).Height;
        bool isLonger = contentHeight > Bounds.Height;
        offset = Math.Clamp(offset, 0, Math.Max(0, contentHeight - Bounds.Height));
        content.Arrange(new(Bounds.X, Bounds.Y - offset, Bounds.Width - (isLonger ? BarWidth + 1 : 0), Math.Max(contentHeight, Bounds.Height)), ruler);
    }

    private void MoveTo(float wanted)
    {
        offset = Math.Clamp(wanted, 0, Math.Max(0, contentHeight - Bounds.Height));
        Host?.MarkLayout();
    }
}
