using LiveStems.Albums.Import;
using LiveStems.Albums.Storage;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens.Drawers;
using LiveStems.View.Window;

namespace LiveStems.View.Screens;

/// <summary>The window of an album: songs, lanes, spectrum, chain, meters, comparing, playing.</summary>
internal sealed class MainScreen : IScreen
{
    private const float SmallestScale = 1;
    private const float LargestScale = 3;
    private const float ScaleStep = 0.125f;

    private static readonly HashSet<string> Repeating =
    [
        "back", "on", "marker-back", "marker-on", "louder", "softer", "band-down", "band-up", "band-narrower", "band-wider",
        "stem-back", "stem-on", "gain-up", "gain-down", "undo", "redo", "zoom-in", "zoom-out", "scale-up", "scale-down",
    ];

    private readonly AlbumDesk desk;
    private readonly Frame root;
    private readonly LaneView lanes;
    private readonly SpectrumView spectrum;
    private readonly ChainView chain;
    private readonly MeterPanel meters;
    private readonly TransportView transport;
    private readonly CompareStrip compare;
    private readonly StatusBar status;
    private readonly MainArea area;
    private readonly Control names;
    private readonly Control songs;
    private ControlHost host = null!;
    private ScreenState shown;
    private bool isClosing;

    public MainScreen(AlbumDesk desk, WindowState state, SettingsFile? settings = null)
    {
        this.desk = desk;
        Theme = state.Shade == DeskShade.Light ? Theme.Light : Theme.Dark;
        Scale = state.ScalePercent == 0 ? 1 : state.ScalePercent / 100f;
        lanes = new LaneView(desk);
        spectrum = new SpectrumView(desk);
        chain = new ChainView(desk, () => Choose(ChooserKind.Processor), () => Choose(ChooserKind.Preset));
        meters = new MeterPanel(desk);
        transport = new TransportView(desk);
        status = new StatusBar(desk);
        Drawer = new Drawer(desk, DrawerPages.Of(desk, settings is null ? null : () => settings.Load().Recent, album => WantsAlbum = album, chooser => host.Open(chooser)), desk.Tell);
        compare = new CompareStrip(desk, () => Choose(ChooserKind.CompareScope), () => Drawer.Toggle(Drawer.Page.Id), Drawer.PagesWithKeys) { HasDrawer = () => area!.Shape != AreaShape.Single };
        area = new MainArea(lanes, spectrum, chain, meters, Drawer);
        names = Names();
        songs = new SongStrip(desk);
        root = new Frame(names, songs);
        WindowCommands.AddTo(desk.Commands, this);
        DrawerPages.AddTo(desk.Commands, desk, Drawer);
        Build();
    }

    public Control Root => root;

    public string Title => $"{desk.Song.Title} – {desk.Album.Title} – LiveStems";

    public Theme Theme { get; private set; }

    public float Scale { get; private set; }

    public bool IsQuiet => !desk.Transport.IsPlaying && !desk.Jobs.IsBusy;

    public bool WantsToClose => isClosing || WantsAlbum is not null;

    /// <summary>The album to be opened in place of this one; null for none.</summary>
    public string? WantsAlbum { get; private set; }

    /// <summary>The drawer beside the lanes.</summary>
    public Drawer Drawer { get; }

    public AlbumDesk Desk => desk;

    public LaneView Lanes => lanes;

    public SpectrumView Spectrum => spectrum;

    public ChainView Chain => chain;

    public MainArea Area => area;

    public void Attach(ControlHost attached)
    {
        host = attached;
        host.Dropped = Drop;
    }

    public void Update(double seconds)
    {
        desk.Update();
        ScreenState now = new(desk.Revision, desk.Monitor.Settings, desk.Compare.Words, desk.Compare.Side, desk.Compare.IsReady, desk.Compare.IsFair, desk.Work.ShownAccount, desk.Compare.Blind.Round, desk.Songs.Revision,
            desk.Transport.IsPlaying, desk.Transport.Loop);
        if (now != shown)
        {
            shown = now;
            host.MarkDirty(root.Bounds);
        }

        lanes.Update();
        spectrum.Update(seconds);
        chain.Update(seconds);
        meters.Update(seconds);
        transport.Update();
        compare.Update();
        status.Update(seconds);
        Drawer.Update(seconds);
        area.Fit();
    }

    public bool Press(string key, Modifiers modifiers, bool isRepeat)
    {
        KeyChord chord = new(key, modifiers.HasFlag(Modifiers.Control) || modifiers.HasFlag(Modifiers.System), modifiers.HasFlag(Modifiers.Shift), modifiers.HasFlag(Modifiers.Alt));
        if (isRepeat && desk.Commands.Find(chord) is { } command && !Repeating.Contains(command.Id))
        {
            return true;
        }

        bool isDone = desk.Commands.Press(chord, out string? fault);
        desk.Tell(fault);
        return isDone;
    }

    public void ShowKeys() => host.Open(new KeyOverlay(
        [.. desk.Commands.All.Where(command => command.Keys.Count > 0).Select(command => new KeyLine(command.Group, command.KeyText, command.Words))]));

    public void SwitchTheme()
    {
        Theme = Theme.IsDark ? Theme.Light : Theme.Dark;
        host.MarkLayout();
    }

    public void ChangeScale(int steps) => Scale = steps == 0 ? 1 : Math.Clamp(Scale + steps * ScaleStep, SmallestScale, LargestScale);

    public void Close() => isClosing = true;

    /// <summary>Opens a page of the drawer.</summary>
    public void OpenDrawer(string id)
    {
        if (Drawer.Pages.FirstOrDefault(page => page.Id.Equals(id, StringComparison.OrdinalIgnoreCase)) is { } page)
        {
            Drawer.Open(page);
        }
        else
        {
            desk.Tell($"there is no drawer '{id}'; there are {string.Join(", ", Drawer.Pages.Select(each => each.Id))}");
        }
    }

    /// <summary>
    /// Takes what was dropped on the window: an album is opened; folders, and sound files by themselves, are imported and
    /// checked; anything else is refused.
    /// </summary>
    public void Drop(IReadOnlyList<string> paths)
    {
        if (paths.FirstOrDefault(IsAlbum) is { } album)
        {
            WantsAlbum = album;
            return;
        }

        string[] folders = [.. paths.Where(Directory.Exists)];
        string[] sounds = [.. paths.Where(path => File.Exists(path) && SoundFiles.IsSound(path))];
        string[] others = [.. paths.Except(folders).Except(sounds)];
        string[] alone = [.. sounds.Where(path => !folders.Contains(Path.GetDirectoryName(path)))];
        if (folders.Length + alone.Length > 0)
        {
            desk.Work.Import(folders, alone);
            OpenDrawer("check");
        }

        if (others.Length > 0)
        {
            string names = Path.GetFileName(Path.TrimEndingDirectorySeparator(others[0])) + (others.Length == 1 ? " is" : $" and {others.Length - 1} more are");
            desk.Tell($"{names} no sound: drop sound files (WAV, AIFF, FLAC …), folders of them, or an album");
        }
    }

    /// <summary>What is to be remembered of the window.</summary>
    public WindowState Remember(WindowState before) => before with
    {
        ScalePercent = Scale == 1 ? 0 : (int)MathF.Round(Scale * 100),
        Shade = Theme.IsDark ? DeskShade.Dark : DeskShade.Light,
    };

    /// <summary>Opens a list to choose from.</summary>
    public void Choose(ChooserKind kind) => host.Open(Choosers.Create(kind, desk, desk.Tell, host.Open));

    // What makes everything be drawn again.
    private readonly record struct ScreenState(
        long Album, Engine.Monitor.MonitorSettings Monitor, string Compared, Engine.Comparing.CompareSide Side, bool IsReady, bool IsFair,
        Analysis.Headroom.HeadroomReport? Account, int Round, long Songs, bool IsPlaying, (double, double)? Loop);

    private static bool IsAlbum(string path) =>
        Path.GetFileName(path) == AlbumFile.Name || (Directory.Exists(path) && File.Exists(Path.Combine(path, AlbumFile.Name)));

    private Stack Names()
    {
        Stack both = Stack.Column(0);
        both.Add(new LiveLabel(() => desk.Album.Title, Tone.Text, Lettering.Large), Length.Of(23));
        both.Add(new LiveLabel(() => desk.Album.Artist, Tone.Quiet), Length.Of(15));
        return both;
    }

    private void Build()
    {
        root.Surface = Tone.Ground;
        Stack header = root.Add(Stack.Row(12), Length.Of(40));
        header.Add(names, Length.Of(190));
        header.Add(songs, Length.Rest());
        header.Add(transport, Length.Fit);
        root.Add(area, Length.Rest());
        root.Add(compare, Length.Of(30));
        root.Add(status, Length.Of(18));
    }

    /// <summary>What frames the parts; in a low window it leaves them what it can.</summary>
    private sealed class Frame(Control names, Control songs) : Stack(false)
    {
        private const float NamesUnits = 1000;
        private const float SongsUnits = 520;
        private const float LowUnits = 340;
        private const int Header = 0;
        private const int Compare = 2;
        private const int Status = 3;

        protected override void ArrangeChildren(ITextRuler ruler)
        {
            names.IsVisible = Bounds.Width >= NamesUnits;
            songs.IsVisible = Bounds.Width >= SongsUnits;
            bool isLow = Bounds.Height < LowUnits;
            SetSpace(isLow ? 3 : 6, isLow ? 4 : 8);
            SetLength(Header, Length.Of(isLow && !songs.IsVisible ? 28 : 40));
            SetLength(Compare, Length.Of(isLow ? 26 : 30));
            SetLength(Status, Length.Of(isLow ? 17 : 18));
            base.ArrangeChildren(ruler);
        }
    }
}
