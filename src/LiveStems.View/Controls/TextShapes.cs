using SkiaSharp;

namespace LiveStems.View.Controls;

/// <summary>Words ready to be drawn.</summary>
/// <param name="Blob">Their signs in place; null when not even one fits.</param>
/// <param name="Width">Their width in logical units.</param>
internal readonly record struct TextShape(SKTextBlob? Blob, float Width);

/// <summary>
/// Words that were drawn lately, ready to be drawn again: readings and labels come back all the time, and laying them out
/// anew would cost time and garbage with every picture.
/// </summary>
internal sealed class TextShapes(Fonts fonts) : IDisposable
{
    private const int Most = 3000;

    private readonly Dictionary<(string Text, int Units, Lettering Lettering), TextShape> shapes = [];

    /// <summary>Words, cut short with … where they are wider than a width in logical units.</summary>
    public TextShape Of(string text, float width, Lettering lettering)
    {
        bool isWhole = fonts.Width(text, lettering) <= width + 0.5f;
        (string, int, Lettering) key = (text, isWhole ? int.MaxValue : (int)(width * 2), lettering);
        if (shapes.TryGetValue(key, out TextShape known))
        {
            return known;
        }

        if (shapes.Count >= Most)
        {
            Clear();
        }

        string shown = fonts.Written(text);
        shown = isWhole ? shown : Fit(shown, width, lettering);
        return shapes[key] = shown.Length == 0 ? default : fonts.Set(shown, lettering);
    }

    public void Dispose() => Clear();

    private void Clear()
    {
        foreach (TextShape shape in shapes.Values)
        {
            shape.Blob?.Dispose();
        }

        shapes.Clear();
    }

    private string Fit(string text, float width, Lettering lettering)
    {
        int low = 0;
        int high = text.Length;
        float dots = fonts.Width("…", lettering);
        while (low < high)
        {
            int middle = (low + high + 1) / 2;
            (low, high) = fonts.Measure(text[..middle], lettering) + dots <= width ? (middle, high) : (low, middle - 1);
        }

        // Half of a sign beyond the basic plane is no sign.
        low -= low > 0 && char.IsHighSurrogate(text[low - 1]) ? 1 : 0;
        return low == 0 ? string.Empty : text[..low].TrimEnd() + "…";
    }
}
