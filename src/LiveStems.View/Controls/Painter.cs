using SkiaSharp;

namespace LiveStems.View.Controls;

/// <summary>Where words stand in their box.</summary>
internal enum Side
{
    Left,
    Centre,
    Right,
}

/// <summary>Draws shapes and words in the tones of the theme.</summary>
internal sealed class Painter(Fonts fonts) : IDisposable
{
    private readonly SKPaint fill = new() { IsAntialias = true };
    private readonly SKPaint stroke = new() { IsAntialias = true, Style = SKPaintStyle.Stroke };
    private readonly SKPaint erase = new() { BlendMode = SKBlendMode.Clear };

    /// <summary>Where it draws now, in logical units.</summary>
    public SKCanvas Canvas { get; set; } = null!;

    public Theme Theme { get; set; } = Theme.Dark;

    public Fonts Fonts => fonts;

    public void Fill(in Box box, Tone tone, float alpha = 1, float radius = 0)
    {
        fill.Color = Colour(tone, alpha);
        if (radius > 0)
        {
            Canvas.DrawRoundRect(box.ToSkia(), radius, radius, fill);
        }
        else
        {
            Canvas.DrawRect(box.ToSkia(), fill);
        }
    }

    public void Frame(in Box box, Tone tone, float width = 1, float radius = 0, float alpha = 1)
    {
        stroke.Color = Colour(tone, alpha);
        stroke.StrokeWidth = width;
        Canvas.DrawRoundRect(box.Inset(width / 2).ToSkia(), radius, radius, stroke);
    }

    public void Line(float x0, float y0, float x1, float y1, Tone tone, float width = 1, float alpha = 1)
    {
        stroke.Color = Colour(tone, alpha);
        stroke.StrokeWidth = width;
        Canvas.DrawLine(x0, y0, x1, y1, stroke);
    }

    /// <summary>Makes a hole through which a plot below is seen.</summary>
    public void Hole(in Box box) => Canvas.DrawRect(box.ToSkia(), erase);

    /// <summary>Words on one line in the middle of a box's height, cut short with … where they do not fit.</summary>
    public void Text(string text, in Box box, Tone tone, Lettering lettering = Lettering.Plain, Side side = Side.Left, float alpha = 1)
    {
        if (text.Length == 0 || box.Width <= 2)
        {
            return;
        }

        TextShape shape = fonts.Shape(text, box.Width, lettering);
        if (shape.Blob is not { } blob)
        {
            return;
        }

        float x = side switch { Side.Left => box.X, Side.Right => box.Right - shape.Width, _ => box.CentreX - shape.Width / 2 };
        float y = box.CentreY + fonts[lettering].Size * 0.36f;
        fill.Color = Colour(tone, alpha);
        Canvas.DrawText(blob, x, y, fill);
    }

    public void Dispose()
    {
        fill.Dispose();
        stroke.Dispose();
        erase.Dispose();
    }

    private SKColor Colour(Tone tone, float alpha) => alpha >= 1 ? Theme[tone] : Theme[tone].WithAlpha((byte)(alpha * 255));
}
