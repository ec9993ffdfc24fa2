using SkiaSharp;

namespace LiveStems.View.Controls;

/// <summary>Sizes of words.</summary>
internal enum Lettering
{
    /// <summary>Axis marks and units.</summary>
    Small,

    /// <summary>Nearly everything.</summary>
    Plain,

    /// <summary>Names of parts, chosen things.</summary>
    Strong,

    /// <summary>Readings.</summary>
    Large,

    /// <summary>The reading that matters most.</summary>
    Huge,
}

/// <summary>Says how long words are.</summary>
internal interface ITextRuler
{
    float Width(string text, Lettering lettering);

    float LineHeight(Lettering lettering);
}

/// <summary>The fonts of the window: the first of the families that the system has, and others of it for signs that one lacks.</summary>
internal sealed class Fonts : ITextRuler, IDisposable
{
    private static readonly string[] Families =
        ["Source Sans 3", "Source Sans Pro", "Noto Sans", "Segoe UI", "Helvetica Neue", "Liberation Sans", "DejaVu Sans", "Arial"];

    private static readonly float[] Sizes = [10.5f, 12, 12, 17, 30];

    private readonly SKTypeface plain;
    private readonly SKTypeface strong;
    private readonly SKFont[] fonts;
    private readonly bool hasSharp;
    private readonly bool hasFlat;
    private readonly Dictionary<(string, Lettering), float> widths = [];
    private readonly ForeignText foreign = new();
    private readonly TextShapes shapes;

    public Fonts()
    {
        shapes = new TextShapes(this);
        string family = Families.FirstOrDefault(IsThere) ?? SKTypeface.Default.FamilyName;
        plain = SKTypeface.FromFamilyName(family, SKFontStyle.Normal) ?? SKTypeface.Default;
        strong = SKTypeface.FromFamilyName(family, SKFontStyle.Bold) ?? plain;
        fonts = [.. Sizes.Select((size, i) => new SKFont((Lettering)i is Lettering.Strong or Lettering.Huge ? strong : plain, size)
        {
            Edging = SKFontEdging.Antialias,
            Subpixel = true,
            Hinting = SKFontHinting.None,
        })];
        hasSharp = Array.TrueForAll(fonts, font => font.ContainsGlyph('♯'));
        hasFlat = Array.TrueForAll(fonts, font => font.ContainsGlyph('♭'));
    }

    public SKFont this[Lettering lettering] => fonts[(int)lettering];

    /// <summary>A text with what the font has no signs for written in plain letters: ♯ as #, ♭ as b.</summary>
    public string Written(string text) => Written(text, hasSharp, hasFlat);

    internal static string Written(string text, bool hasSharp, bool hasFlat)
    {
        text = hasSharp || !text.Contains('♯', StringComparison.Ordinal) ? text : text.Replace('♯', '#');
        return hasFlat || !text.Contains('♭', StringComparison.Ordinal) ? text : text.Replace('♭', 'b');
    }

    public float Width(string text, Lettering lettering)
    {
        if (widths.TryGetValue((text, lettering), out float known))
        {
            return known;
        }

        // Readings change all the time; what was measured long ago may be measured again.
        if (widths.Count > 4000)
        {
            widths.Clear();
        }

        return widths[(text, lettering)] = Measure(Written(text), lettering);
    }

    /// <summary>Words as they are written, ready to be drawn whole.</summary>
    public TextShape Set(string written, Lettering lettering)
    {
        SKFont font = this[lettering];
        return ForeignText.Concerns(written, font) ? foreign.Shape(written, font) : new TextShape(SKTextBlob.Create(written, font), font.MeasureText(written));
    }

    /// <summary>The width of words as they are written.</summary>
    public float Measure(string written, Lettering lettering)
    {
        SKFont font = this[lettering];
        return ForeignText.Concerns(written, font) ? foreign.Width(written, font) : font.MeasureText(written);
    }

    /// <summary>Words ready to be drawn, cut short where they are wider than a width.</summary>
    public TextShape Shape(string text, float width, Lettering lettering) => shapes.Of(text, width, lettering);

    public float LineHeight(Lettering lettering) => Sizes[(int)lettering] * 1.25f;

    public void Dispose()
    {
        shapes.Dispose();
        foreign.Dispose();
        foreach (SKFont font in fonts)
        {
            font.Dispose();
        }
    }

    private static bool IsThere(string family)
    {
        using SKTypeface? found = SKFontManager.Default.MatchFamily(family);
        return found is not null && found.FamilyName.Equals(family, StringComparison.OrdinalIgnoreCase);
    }
}
