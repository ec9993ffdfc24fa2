using SkiaSharp;

namespace LiveStems.View.Controls;

/// <summary>What a colour is for. Controls and plots name the purpose; the theme says the colour.</summary>
internal enum Tone
{
    /// <summary>Behind everything.</summary>
    Ground,

    /// <summary>Surface of a part of the screen.</summary>
    Panel,

    /// <summary>Surface that can be pressed or typed into.</summary>
    Raised,

    /// <summary>The same under the pointer.</summary>
    Lifted,

    /// <summary>Surface that is chosen or on.</summary>
    Chosen,

    /// <summary>Behind plots.</summary>
    Well,

    /// <summary>Lines of grids.</summary>
    Grid,

    /// <summary>Edges and separators.</summary>
    Edge,

    /// <summary>Around what has the keyboard.</summary>
    Focus,

    /// <summary>What is read first.</summary>
    Text,

    /// <summary>Labels and units.</summary>
    Quiet,

    /// <summary>Words on <see cref="Chosen"/>.</summary>
    OnChosen,

    /// <summary>Sound as it comes out.</summary>
    Output,

    /// <summary>Sound as it came in.</summary>
    Input,

    /// <summary>Gain taken away.</summary>
    Reduction,

    /// <summary>The band that is heard alone, solo.</summary>
    Listen,

    /// <summary>Findings.</summary>
    Trouble,

    /// <summary>Too much: over the ceiling, mute, loss.</summary>
    Alarm,

    /// <summary>Inside the target.</summary>
    Good,
}

/// <summary>The colours of the window, and which words stand on which surface.</summary>
internal sealed class Theme
{
    private static readonly (Tone Text, Tone Surface)[] Readable =
    [
        .. from text in new[] { Tone.Text, Tone.Quiet, Tone.Output, Tone.Input, Tone.Reduction, Tone.Listen, Tone.Trouble, Tone.Alarm, Tone.Good }
           from surface in new[] { Tone.Ground, Tone.Panel, Tone.Raised, Tone.Lifted, Tone.Well }
           select (text, surface),
        (Tone.OnChosen, Tone.Chosen),
        (Tone.OnChosen, Tone.Listen), (Tone.OnChosen, Tone.Alarm), (Tone.OnChosen, Tone.Reduction), (Tone.OnChosen, Tone.Output),
    ];

    private readonly SKColor[] colours;

    private Theme(string name, bool isDark, params uint[] colours)
    {
        Name = name;
        IsDark = isDark;
        this.colours = [.. colours.Select(rgb => new SKColor(rgb | 0xFF00_0000))];
    }

    /// <summary>Night water and lamp light.</summary>
    public static Theme Dark { get; } = new(
        "dark",
        true,
        0x101517, 0x171D20, 0x21292D, 0x2A3439, 0xD9C49A, 0x0B0F11, 0x232C30, 0x35424A, 0x8FD3E8,
        0xE9EDE8, 0xA6B3B5, 0x14191B,
        0xE6D3A3, 0x8DB4C9, 0xF0925E, 0x62CDB8, 0xD49BE3, 0xFF8A80, 0x9CCB86);

    /// <summary>Chalk and ink.</summary>
    public static Theme Light { get; } = new(
        "light",
        false,
        0xE9E8E2, 0xF4F3EE, 0xFFFFFF, 0xF0EFE8, 0x2F4A52, 0xFBFAF6, 0xDEDDD4, 0xBDBDB2, 0x0B6E8C,
        0x1A2022, 0x4C585B, 0xFFFFFF,
        0x6B4E00, 0x2B5C7A, 0x9A3B05, 0x00604F, 0x7A2F92, 0xA8161B, 0x2F5E16);

    public string Name { get; }

    public bool IsDark { get; }

    /// <summary>Every pair of words and surface that the window may show.</summary>
    public static IEnumerable<(Tone Text, Tone Surface)> TextPairs => Readable;

    public SKColor this[Tone tone] => colours[(int)tone];

    /// <summary>Contrast of two colours: WCAG 2.2, "contrast ratio" and "relative luminance".</summary>
    public static double Contrast(SKColor one, SKColor other)
    {
        double a = Luminance(one);
        double b = Luminance(other);
        return (Math.Max(a, b) + 0.05) / (Math.Min(a, b) + 0.05);
    }

    private static double Luminance(SKColor colour) =>
        0.2126 * Linear(colour.Red) + 0.7152 * Linear(colour.Green) + 0.0722 * Linear(colour.Blue);

    private static double Linear(byte channel)
    {
        double share = channel / 255.0;
        return share <= 0.04045 ? share / 12.92 : Math.Pow((share + 0.055) / 1.055, 2.4);
    }
}
