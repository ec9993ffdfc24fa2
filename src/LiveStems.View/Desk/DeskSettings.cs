namespace LiveStems.View.Desk;

/// <summary>Dark or light.</summary>
public enum DeskShade
{
    /// <summary>Light signs on dark ground.</summary>
    Dark,

    /// <summary>Dark signs on light ground.</summary>
    Light,
}

/// <summary>Where the window was and how it looked.</summary>
/// <param name="X">Left edge in screen units; null for wherever the system puts it.</param>
/// <param name="Y">Top edge.</param>
/// <param name="Width">Width in screen units.</param>
/// <param name="Height">Height in screen units.</param>
/// <param name="IsMaximised">True when it filled the screen.</param>
/// <param name="ScalePercent">Size of everything, 100 to 300; 0 for the screen's own.</param>
/// <param name="Shade">Dark or light.</param>
public sealed record WindowState(int? X, int? Y, int Width, int Height, bool IsMaximised, int ScalePercent, DeskShade Shade)
{
    /// <summary>The first time.</summary>
    public static WindowState AtFirst { get; } = new(null, null, 1280, 800, false, 0, DeskShade.Dark);
}

/// <summary>An album that was open before.</summary>
/// <param name="Folder">Its folder, in full.</param>
/// <param name="Title">Its title.</param>
/// <param name="OpenedAt">When it was open last.</param>
public sealed record RecentAlbum(string Folder, string Title, DateTimeOffset OpenedAt);

/// <summary>What the program remembers about its user from one run to the next.</summary>
public sealed record DeskSettings
{
    /// <summary>As on the first day.</summary>
    public static DeskSettings AtFirst { get; } = new();

    /// <summary>The window.</summary>
    public WindowState Window { get; init; } = WindowState.AtFirst;

    /// <summary>Albums, the latest first.</summary>
    public IReadOnlyList<RecentAlbum> Recent { get; init; } = [];

    /// <summary>The sound device by name; null for the system's own choice.</summary>
    public string? Device { get; init; }

    /// <summary>Frames the device asks for at a time.</summary>
    public int BufferFrames { get; init; } = Engine.Devices.DeviceSettings.UsualBufferFrames;

    /// <summary>Calibration of the listening level: <see cref="ExposureModel.FullScaleDbA"/>; null before it was measured.</summary>
    public double? FullScaleDbA { get; init; }
}
