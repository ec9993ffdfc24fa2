namespace LiveStems.View.Pictures;

/// <summary>
/// Colours of the pictures: ink and grid on paper, and seven line colours that stay apart for the common kinds of colour
/// blindness (after Okabe and Ito, "Color Universal Design", 2008, darkened until each has a contrast of at least 3:1 on paper).
/// </summary>
public static class PicturePalette
{
    /// <summary>Background, as #RRGGBB.</summary>
    public const string Paper = "#FBFAF7";

    /// <summary>Text and axes.</summary>
    public const string Ink = "#23282D";

    /// <summary>Grid lines.</summary>
    public const string Grid = "#DDDAD2";

    /// <summary>Quiet text and second-rank lines; 4.5:1 on paper.</summary>
    public const string Quiet = "#6B6F73";

    /// <summary>Line colours in order of use, as #RRGGBB.</summary>
    public static IReadOnlyList<string> Lines { get; } =
        ["#00639C", "#C24A00", "#007A5A", "#9C5080", "#8A6D00", "#2E86B8", "#5B4A9E"];

    /// <summary>Line colour of an index; starts again after the last.</summary>
    public static string Line(int index) => Lines[index % Lines.Count];
}
