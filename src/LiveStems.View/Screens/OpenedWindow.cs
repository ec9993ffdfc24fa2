using LiveStems.Albums;
using LiveStems.Processing.Catalogue;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Window;
using SkiaSharp;

namespace LiveStems.View.Screens;

/// <summary>The window with one album after another in it, and what is measured of it.</summary>
internal sealed class OpenedWindow : IDisposable
{
    private const double SettleSeconds = 3;
    private const double SettleHandsSeconds = 30;

    private readonly SettingsFile file;
    private readonly DeskSettings settings;
    private readonly WindowOptions options;
    private readonly CancellationToken interruption;
    private readonly double start = Environment.TickCount64;
    private readonly List<string> notSaved = [];
    private WindowState state;
    private WindowLoop? loop;
    private double albumSeconds;
    private int song = -1;
    private bool hasLostContext;
    private readonly RandomPointer? hands;
    private readonly WindowReport report;
    private string? device;
    private int bufferFrames;

    public OpenedWindow(SettingsFile file, DeskSettings settings, WindowState state, WindowOptions options, CancellationToken interruption)
    {
        this.file = file;
        this.settings = settings;
        this.state = state;
        this.options = options;
        this.interruption = interruption;
        device = options.Device ?? settings.Device;
        bufferFrames = options.BufferFrames ?? settings.BufferFrames;
        // Random hands need longer until everything has been on the screen once.
        double settle = options.RandomSeed is null ? SettleSeconds : Math.Min(SettleHandsSeconds, (options.Seconds ?? double.PositiveInfinity) / 2);
        report = new WindowReport(options.IsMeasured || options.RandomSeed is not null, options.RandomSeed is not null, settle);
        hands = options.RandomSeed is { } seed ? new RandomPointer(seed) : null;
    }

    /// <summary>What there is to say about the pictures: how many, how fast.</summary>
    public string Summary { get; private set; } = string.Empty;

    /// <summary>Opens an album, and whatever album is asked for from there, until the window is closed.</summary>
    /// <exception cref="WindowException">There can be no window here.</exception>
    /// <exception cref="AlbumException">The album cannot be opened, or could not be saved when it was closed.</exception>
    public void Run(string album)
    {
        // The window is opened on this thread, beside it the album, and what is to be shown of it.
        Task<(AlbumDesk Desk, MainScreen Screen)> opening = Task.Run(() => OpenWithScreen(album));
        try
        {
            Theme theme = state.Shade == DeskShade.Light ? Theme.Light : Theme.Dark;
            loop = new WindowLoop("LiveStems", theme, new WindowPlace(state.X, state.Y, state.Width, state.Height, state.IsMaximised), options.UsesGpuText);
            report.Seconds = report.Seconds with { Window = WindowReport.SinceProgramStart() };
        }
        catch
        {
            if (((IAsyncResult)opening).AsyncWaitHandle.WaitOne() && opening.IsCompletedSuccessfully)
            {
                opening.Result.Desk.Dispose();
            }

            throw;
        }

        (AlbumDesk desk, MainScreen screen) = opening.GetAwaiter().GetResult();
        try
        {
            ShowAll(desk, screen);
        }
        catch (Exception fault) when (fault is WindowException or AlbumException)
        {
            if (notSaved.Count == 0)
            {
                throw;
            }

            throw new AlbumException($"{fault.Message}; {string.Join("; ", notSaved)}", fault);
        }

        loop.Dispose();
        loop = null;
        Summary += $"; {GlObjects.Count} OpenGL objects left";
        if (notSaved.Count > 0)
        {
            throw new AlbumException(string.Join("; ", notSaved));
        }
    }

    public void Dispose()
    {
        loop?.Dispose();
        report.Dispose();
    }

    private void ShowAll(AlbumDesk desk, MainScreen screen)
    {
        bool isFirst = true;
        while (Show(desk, screen, isFirst) is { } next)
        {
            desk = next;
            screen = ScreenOf(desk);
            isFirst = false;
        }
    }

    private bool IsOver => options.Seconds is { } seconds && Environment.TickCount64 - start >= seconds * 1000;

    private (AlbumDesk Desk, MainScreen Screen) OpenWithScreen(string album)
    {
        AlbumDesk desk = OpenDesk(album);
        try
        {
            return (desk, ScreenOf(desk));
        }
        catch
        {
            desk.Dispose();
            throw;
        }
    }

    private MainScreen ScreenOf(AlbumDesk desk) => new(desk, state, hands is null ? file : null);

    private AlbumDesk OpenDesk(string album, AlbumDesk? before = null)
    {
        AlbumDesk desk = AlbumDesk.Open(album, options.ProcessorWatch?.Current.Catalogue ?? BuiltInProcessors.Catalogue, device, bufferFrames, song < 0 ? options.Song : null);
        try
        {
            song = song < 0 ? options.Song(desk.Album) : song;
        }
        catch
        {
            desk.Dispose();
            throw;
        }

        if (before is null)
        {
            desk.Exposure.Restore(settings.FullScaleDbA);
        }
        else
        {
            desk.Exposure.GoOnFrom(before.Exposure);
        }

        // Random hands decide nothing about what may run on this machine.
        desk.ProcessorWatch = hands is null ? options.ProcessorWatch : null;
        desk.Devices.IsFixed = hands is not null;
        desk.Devices.Kept = (playing, isChosen, frames) => KeepDevice(desk, playing, isChosen, frames);
        albumSeconds = albumSeconds == 0 ? WindowReport.SinceProgramStart() : albumSeconds;
        return desk;
    }

    private void KeepDevice(AlbumDesk desk, string? playing, bool isChosen, int frames)
    {
        (device, bufferFrames) = (playing, frames);
        if (!file.Change(each => isChosen ? each with { Device = playing, BufferFrames = frames } : each with { BufferFrames = frames }))
        {
            desk.Say(MessageKind.Trouble, "the device plays, but cannot be kept for the next time: the settings cannot be written");
        }
    }

    // The desk of the album that is wanted next, or null when the window is closed.
    private AlbumDesk? Show(AlbumDesk desk, MainScreen screen, bool isFirst)
    {
        string? next;
        try
        {
            loop!.Show(screen);
            DeskTrace? trace = options.Trace is null ? null : new DeskTrace(desk, options.Trace);
            bool hasBegun = false;
            bool isWanted;
            do
            {
                isWanted = RunOnce();
            }
            while (isWanted && hands is not null && !interruption.IsCancellationRequested && !IsOver);

            bool RunOnce() => loop.Run(each =>
            {
                if (!hasBegun)
                {
                    hasBegun = true;
                    Begin(desk, screen, isFirst);
                }

                report.Look(each, desk, options.Plays);
                LoseContext(each);
                trace?.Write(each, screen);
                hands?.Act(each.Host, each.Size.Width, each.Size.Height);
                return interruption.IsCancellationRequested || IsOver;
            });

            next = isWanted ? screen.WantsAlbum : null;
            Remember(desk, screen);
            report.Seconds = report.Seconds with { Album = albumSeconds };
            Summary = report.Sum(loop, desk);
            if (next is null && options.Screenshot is { } picture)
            {
                Save(loop, picture);
            }
        }
        finally
        {
            desk.Dispose();
            if (desk.NotSaved is { } line)
            {
                notSaved.Add(line);
            }
        }

        return next is null ? null : OpenNext(next, desk);
    }

    // Where the album that was wanted cannot be opened, the one before comes back and says why.
    private AlbumDesk OpenNext(string next, AlbumDesk before)
    {
        AlbumDesk desk;
        try
        {
            desk = OpenDesk(next, before);
        }
        catch (Exception fault) when (fault is AlbumException or IOException or UnauthorizedAccessException)
        {
            desk = OpenDesk(before.Folder, before);
            desk.Say(MessageKind.Refusal, fault.Message);
        }

        if (before.NotSaved is { } line)
        {
            desk.Say(MessageKind.Trouble, line);
        }

        return desk;
    }

    private void Begin(AlbumDesk desk, MainScreen screen, bool isFirst)
    {
        desk.BeginSound();
        _ = desk.Songs.Recall();
        file.Remember(desk.Folder, desk.Album.Title, DateTimeOffset.Now);
        if (!isFirst)
        {
            return;
        }

        desk.ShowSong(song);
        if (options.Stem is { } stem)
        {
            desk.Select(Engine.Live.TapPlace.OfStem(Albums.Editing.AlbumAddress.StemIndex(desk.Song, stem)));
        }

        if (options.Plays)
        {
            desk.Transport.Play();
        }

        if (options.Drawer is { } drawer)
        {
            screen.OpenDrawer(drawer);
        }
    }

    private void LoseContext(WindowLoop each)
    {
        if (!hasLostContext && options.LosesContextAt is { } at && Environment.TickCount64 - start >= at * 1000)
        {
            hasLostContext = true;
            each.LoseContext();
        }
    }

    private void Remember(AlbumDesk desk, MainScreen screen)
    {
        WindowPlace place = loop!.Place;
        WindowState last = screen.Remember(state);
        state = place.IsMaximised
            ? last with { IsMaximised = true }
            : last with { X = place.X, Y = place.Y, Width = place.Width, Height = place.Height, IsMaximised = false };
        file.Change(each => each with { Window = state, FullScaleDbA = desk.Exposure.FullScaleDbA });
    }

    private static void Save(WindowLoop loop, string path)
    {
        using SKBitmap picture = loop.Picture();
        using SKData data = picture.Encode(SKEncodedImageFormat.Png, 100);
        File.WriteAllBytes(path, data.ToArray());
    }
}
