using System.Globalization;

namespace LiveStems.View.Screens;

/// <summary>Times as people write them.</summary>
internal static class TimeText
{
    /// <summary>"1:05", or "1:05.3".</summary>
    public static string Of(double seconds, bool withTenths = false)
    {
        double whole = Math.Max(0, seconds);
        int minutes = (int)(whole / 60);
        double rest = whole - minutes * 60;
        return withTenths ? $"{minutes}:{Math.Floor(rest * 10) / 10:00.0}" : $"{minutes}:{Math.Floor(rest + 1e-6):00}";
    }

    /// <summary>"1:05.25": as exact as places are kept.</summary>
    public static string Exact(double seconds)
    {
        double whole = Math.Max(0, seconds);
        int minutes = (int)(whole / 60);
        return string.Create(CultureInfo.InvariantCulture, $"{minutes}:{whole - minutes * 60:00.##}");
    }

    /// <summary>Reads "1:05", "0:07.5" or "65.25"; false for anything else.</summary>
    public static bool TryParse(string text, out double seconds)
    {
        string[] parts = text.Trim().Split(':');
        seconds = 0;
        return parts.Length switch
        {
            1 => Number(parts[0], out seconds),
            2 => int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out int minutes) && Number(parts[1], out seconds) && seconds < 60 && (seconds += minutes * 60.0) >= 0,
            _ => false,
        };
    }

    private static bool Number(string text, out double value) =>
        double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);
}
