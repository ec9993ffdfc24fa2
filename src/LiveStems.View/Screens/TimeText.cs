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
}
