using LiveStems.Engine.Hosting;
using LiveStems.View.Desk;
using LiveStems.View.Window;

namespace LiveStems.View.Screens;

/// <summary>How a window is to be opened.</summary>
public sealed record WindowOptions
{
    /// <summary>
    /// Looks at the processors folder while the window is open: processors of others may come and go. Stays the caller's to
    /// dispose of; null for the built-in processors only.
    /// </summary>
    public ProcessorWatch? ProcessorWatch { get; init; }

    /// <summary>Part of a sound device's name, "silent", or null for the one used last.</summary>
    public string? Device { get; init; }

    /// <summary>Frames that the device asks for at a time, or null for as many as last.</summary>
    public int? BufferFrames { get; init; }

    /// <summary>Says with which song of the album to begin, by its place; may throw, and then no window opens.</summary>
    public Func<Albums.Model.Album, int> Song { get; init; } = _ => 0;

    /// <summary>A PNG file for a picture of the window, or null.</summary>
    public string? Screenshot { get; init; }

    /// <summary>Seconds after which the window closes by itself, or null; a screenshot is taken then.</summary>
    public double? Seconds { get; init; }

    /// <summary>True to play at once.</summary>
    public bool Plays { get; init; }

    /// <summary>What to select at the start, as the name of a stem; null for the song bus.</summary>
    public string? Stem { get; init; }

    /// <summary>Width in screen units, or null for that of the last time.</summary>
    public int? Width { get; init; }

    /// <summary>Height in screen units, or null for that of the last time.</summary>
    public int? Height { get; init; }

    /// <summary>Size of everything in per cent, 100 to 300, or null for that of the last time.</summary>
    public int? ScalePercent { get; init; }

    /// <summary>Dark or light, or null for that of the last time.</summary>
    public DeskShade? Shade { get; init; }

    /// <summary>True to draw words with the graphics processor, false with the main one, null for what suits.</summary>
    public bool? UsesGpuText { get; init; }

    /// <summary>Seconds after which the window behaves as if the graphics driver had been reset, for tests; null for never.</summary>
    public double? LosesContextAt { get; init; }

    /// <summary>Seed of random hands on the window, for tests; null for none.</summary>
    public int? RandomSeed { get; init; }

    /// <summary>True to measure the window while it runs; costs a little.</summary>
    public bool IsMeasured { get; init; }

    /// <summary>Name of the drawer to begin with, or null for none.</summary>
    public string? Drawer { get; init; }

    /// <summary>Where the state of the desk is written as lines of JSON, for tests; null for nowhere.</summary>
    public TextWriter? Trace { get; init; }
}

/// <summary>The window of an album, from opening to closing.</summary>
public static class AlbumWindow
{
    /// <summary>One line that says why there can be no window here, or null when there can.</summary>
    public static string? Obstacle() => GlfwWindow.Obstacle();

    /// <summary>Opens an album in a window and returns when it is closed.</summary>
    /// <param name="albumFolderOrFile">The album.</param>
    /// <param name="options">How.</param>
    /// <param name="interruption">Ends it.</param>
    /// <returns>What there is to say about the pictures: how many, how fast.</returns>
    /// <exception cref="WindowException">There can be no window here.</exception>
    /// <exception cref="Albums.AlbumException">The album cannot be opened, or could not be saved when it was closed.</exception>
    public static string Run(string albumFolderOrFile, WindowOptions options, CancellationToken interruption)
    {
        SettingsFile file = new(SettingsFile.UserFolder);
        DeskSettings settings = file.Load();
        WindowState state = settings.Window with
        {
            Width = options.Width ?? settings.Window.Width,
            Height = options.Height ?? settings.Window.Height,
            ScalePercent = options.ScalePercent ?? settings.Window.ScalePercent,
            Shade = options.Shade ?? settings.Window.Shade,
        };
        using OpenedWindow window = new(file, settings, state, options, interruption);
        window.Run(albumFolderOrFile);
        return window.Summary;
    }
}
