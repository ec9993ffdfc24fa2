using System.Text.Json;

namespace LiveStems.Albums.Storage;

/// <summary>Values of JSON read without exceptions, and shown on one line.</summary>
internal static class JsonWords
{
    private const int LongestShown = 40;

    /// <summary>The text of a string; null for other kinds and for strings with half a surrogate pair.</summary>
    public static string? TryText(JsonElement value)
    {
        if (value.ValueKind != JsonValueKind.String)
        {
            return null;
        }

        try
        {
            return value.GetString();
        }
        catch (InvalidOperationException)
        {
            return null;
        }
    }

    /// <summary>The name of a field; null when it holds half a surrogate pair.</summary>
    public static string? TryName(JsonProperty property)
    {
        try
        {
            return property.Name;
        }
        catch (InvalidOperationException)
        {
            return null;
        }
    }

    /// <summary>A finite number.</summary>
    public static bool TryNumber(JsonElement value, out double number)
    {
        number = 0;
        return value.ValueKind == JsonValueKind.Number && value.TryGetDouble(out number) && double.IsFinite(number);
    }

    /// <summary>What stands there, short and on one line.</summary>
    public static string Shown(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.Object => "an object {…}",
        JsonValueKind.Array => "a list […]",
        _ => Shortened(value.GetRawText()),
    };

    private static string Shortened(string text) => text.Length <= LongestShown ? text : $"{text[..LongestShown]}…";
}
