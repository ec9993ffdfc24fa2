using LiveStems.Processing.Catalogue;
using LiveStems.View.Desk;
using LiveStems.View.Window;
using SkiaSharp;

namespace LiveStems.View.Screens;

/// <summary>How a window is to be opened.</summary>
public sealed record WindowOptions
{
    /// <summary>Where processors come from.</summary>
    public ProcessorCatalogue Catalogue { get; init; } = BuiltInProcessors.Catalogue;

    /// <summary>Part of a sound device's name, "silent", or null for the one used last.</summary>
    public string? Device { get; init; }

    /// <summary>Frames that the device asks for at a time, or null for as many as last.</summary>
    public int? BufferFrames { get; init; }

    /// <summary>Title or number of the song to begin with, or null for the first.</summary>
    public int SongIndex { get; init; }

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

    /// <summary>Where the state of the desk is written as lines of JSON, for tests; null for nowhere.</summary>
    public TextWriter? Trace { get; init; }
}

/// <summary>The window of an album, from opening to closing.</summary>
public static class AlbumWindow
{
    private const double SettleMilliseconds = 3000;

    /// <summary>One line that says why there can be no window here, or null when there can.</summary>
    public static string? Obstacle() => GlfwWindow.Obstacle();

    /// <summary>Opens an album in a window and returns when it is closed.</summary>
    /// <param name="albumFolderOrFile">The album.</param>
    /// <param name="options">How.</param>
    /// <param name="interruption">Ends it.</param>
    /// <returns>What there is to say about the pictures: how many, how fast.</returns>
    /// <exception cref="WindowException">There can be no window here.</exception>
    /// <exception cref="Albums.AlbumException">The album cannot be opened.</exception>
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
        using AlbumDesk desk = AlbumDesk.Open(
            albumFolderOrFile, options.Catalogue, options.Device ?? settings.Device, options.BufferFrames ?? settings.BufferFrames);
        desk.Exposure.Restore(settings.FullScaleDbA);
        file.Remember(desk.Folder, desk.Album.Title, DateTimeOffset.Now);
        MainScreen screen = new(desk, state);
        using WindowLoop loop = new(screen, state.Width, state.Height, options.UsesGpuText);
        Begin(desk, options);
        DeskTrace? trace = options.Trace is null ? null : new DeskTrace(desk, options.Trace);
        double start = Environment.TickCount64;
        double firstSeconds = 0;
        long allocated = 0;
        double allocatedFrom = 0;
        loop.Run(each =>
        {
            double now = Environment.TickCount64;
            if (firstSeconds == 0)
            {
                using System.Diagnostics.Process process = System.Diagnostics.Process.GetCurrentProcess();
                firstSeconds = (DateTime.Now - process.StartTime).TotalSeconds;
            }

            if (allocatedFrom == 0 && now - start > SettleMilliseconds)
            {
                (allocated, allocatedFrom) = (GC.GetTotalAllocatedBytes(), now);
            }

            trace?.Write(each, screen);
            return interruption.IsCancellationRequested || (options.Seconds is { } seconds && Environment.TickCount64 - start >= seconds * 1000);
        });
        double rate = allocatedFrom == 0 ? 0 : (GC.GetTotalAllocatedBytes() - allocated) / 1e3 / Math.Max(1, Environment.TickCount64 - allocatedFrom);
        if (options.Screenshot is { } picture)
        {
            Save(loop, picture);
        }

        WindowState last = screen.Remember(state);
        file.Change(each => each with { Window = last, FullScaleDbA = desk.Exposure.FullScaleDbA });
        return $"{loop.Times.Count} pictures, {loop.Times.PerSecond:0.0} a second; drawing took {loop.Times.WorkAt(0.5) * 1000:0.0} ms (median), {loop.Times.WorkAt(0.99) * 1000:0.0} ms (99 %); first picture {firstSeconds:0.00} s after the program's start; {rate:0.00} MB allocated a second; {loop.Renderer}";
    }

    private static void Begin(AlbumDesk desk, WindowOptions options)
    {
        desk.ShowSong(options.SongIndex);
        if (options.Stem is { } stem)
        {
            desk.Select(Engine.Live.TapPlace.OfStem(Albums.Editing.AlbumAddress.StemIndex(desk.Song, stem)));
        }

        if (options.Plays)
        {
            desk.Transport.Play();
        }
    }

    private static void Save(WindowLoop loop, string path)
    {
        using SKBitmap picture = loop.Picture();
        using SKData data = picture.Encode(SKEncodedImageFormat.Png, 100);
        File.WriteAllBytes(path, data.ToArray());
    }
}
