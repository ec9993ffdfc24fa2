namespace LiveStems.View.Controls;

/// <summary>Words.</summary>
internal sealed class Label(string text, Tone tone = Tone.Text, Lettering lettering = Lettering.Plain, Side side = Side.Left) : Control
{
    private string text = text;
    private Tone tone = tone;

    public string Text
    {
        get => text;
        set
        {
            if (text != value)
            {
                text = value;
                Redraw();
            }
        }
    }

    public Tone Tone
    {
        get => tone;
        set
        {
            if (tone != value)
            {
                tone = value;
                Redraw();
            }
        }
    }

    public override Extent Measure(ITextRuler ruler) => new(ruler.Width(text, lettering), ruler.LineHeight(lettering));

    public override void Draw(Painter painter) => painter.Text(text, Bounds, tone, lettering, side);
}
