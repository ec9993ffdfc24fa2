using System.Globalization;
using System.Text;

namespace LiveStems.Analysis.Papers;

/// <summary>Text of a page, everything from outside escaped.</summary>
internal sealed class Html
{
    private readonly StringBuilder text = new();

    /// <summary>Text as it stands in a page.</summary>
    public static string Escaped(string words) => words
        .Replace("&", "&amp;", StringComparison.Ordinal)
        .Replace("<", "&lt;", StringComparison.Ordinal)
        .Replace(">", "&gt;", StringComparison.Ordinal)
        .Replace("\"", "&quot;", StringComparison.Ordinal);

    /// <summary>A number with a true minus sign; a dash for none.</summary>
    public static string Number(double value, int decimals, bool signed = false)
    {
        if (!double.IsFinite(value))
        {
            return "–";
        }

        double rounded = Math.Round(value, decimals);
        string size = Math.Abs(rounded).ToString("F" + decimals, CultureInfo.InvariantCulture);
        return rounded < 0 ? $"−{size}" : signed && rounded > 0 ? $"+{size}" : size;
    }

    /// <summary>Minutes and seconds.</summary>
    public static string Length(double seconds)
    {
        long whole = (long)Math.Round(seconds);
        return $"{whole / 60}:{whole % 60:00}";
    }

    /// <summary>Adds markup as it is.</summary>
    public Html Raw(string markup)
    {
        text.Append(markup).Append('\n');
        return this;
    }

    /// <summary>Adds an element around words.</summary>
    /// <param name="tag">Its name, with attributes.</param>
    /// <param name="words">The words, escaped here.</param>
    public Html Element(string tag, string words)
    {
        int space = tag.IndexOf(' ', StringComparison.Ordinal);
        return Raw($"<{tag}>{Escaped(words)}</{(space < 0 ? tag : tag[..space])}>");
    }

    /// <summary>Adds a list; nothing when it is empty.</summary>
    public Html List(IReadOnlyCollection<string> items)
    {
        if (items.Count > 0)
        {
            Raw("<ul>");
            foreach (string item in items)
            {
                Element("li", item);
            }

            Raw("</ul>");
        }

        return this;
    }

    /// <summary>Adds a table that scrolls by itself where it is wider than the page.</summary>
    /// <param name="headings">Headings of the columns.</param>
    /// <param name="rows">Cells; what starts with a digit or a sign is set to the right.</param>
    public Html Table(IReadOnlyList<string> headings, IEnumerable<IReadOnlyList<string>> rows)
    {
        Raw("<div class=\"wide\"><table><thead><tr>");
        foreach (string heading in headings)
        {
            Element("th", heading);
        }

        Raw("</tr></thead><tbody>");
        foreach (IReadOnlyList<string> row in rows)
        {
            Raw("<tr>");
            foreach (string cell in row)
            {
                bool isNumber = cell.Length > 0 && (char.IsAsciiDigit(cell[0]) || cell[0] is '−' or '+' or '–');
                Element(isNumber ? "td class=\"n\"" : "td", cell);
            }

            Raw("</tr>");
        }

        return Raw("</tbody></table></div>");
    }

    /// <summary>The page.</summary>
    public override string ToString() => text.ToString();
}
