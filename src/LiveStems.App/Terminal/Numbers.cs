using System.Text.Json.Nodes;

namespace LiveStems.App.Terminal;

/// <summary>Numbers for people (true minus sign, a dash for "none") and for programs (null for "none").</summary>
internal static class Numbers
{
    /// <summary>A number with a fixed count of decimals.</summary>
    public static string Text(double value, int decimals)
    {
        if (!double.IsFinite(value))
        {
            return "–";
        }

        string text = value.ToString("F" + decimals);
        return text.StartsWith('-') ? (text.TrimStart('-').All(digit => digit is '0' or '.') ? text[1..] : '−' + text[1..]) : text;
    }

    /// <summary>Minutes and seconds: 3:05.</summary>
    public static string Length(double seconds)
    {
        long whole = (long)Math.Round(seconds);
        return $"{whole / 60}:{whole % 60:00}";
    }

    /// <summary>A JSON number rounded to a count of decimals, or null.</summary>
    public static JsonNode? Json(double value, int decimals) =>
        double.IsFinite(value) ? JsonValue.Create(Math.Round(value, decimals)) : null;
}
