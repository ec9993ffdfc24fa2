using System.Diagnostics;
using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Files;
using LiveStems.Processing.Catalogue;

namespace LiveStems.View.Desk;

/// <summary>
/// An album on the desk: what the window shows and does, without a window. All members belong to one thread, which calls
/// <see cref="Update"/> once a picture; nothing here makes the sound wait.
/// </summary>
/// <remarks>
/// Methods that may be refused return null when done, or one line that says what is wrong and what would be right; such a
/// line is also among <see cref="Messages"/>. Models are made once and stay the same objects; what they show follows the
/// album by itself. <see cref="Revision"/> counts up whenever anything about the album or the selection is another.
/// </remarks>
public sealed class AlbumDesk : IDisposable
{
    private const int RememberedMessages = 200;
    private const double GestureSeconds = 0.8;
    private const double UpdateSeconds = 0.02;

    private readonly AlbumSession session;
    private readonly bool ownsDevice;
    private readonly List<StemRow> stems = [];
    private readonly List<DeskMessage> messages = [];
    private readonly PathMeter busMeter;
    private readonly Stopwatch clock = Stopwatch.StartNew();
    private double lastPicture;
    private double lastUpdate;
    private double lastEdit;
    private bool isInGesture;
    private TapPlace tapped = TapPlace.Bus;

    private AlbumDesk(AlbumSession session, ProcessorCatalogue catalogue, IAudioDevice device, bool ownsDevice, bool isAside)
    {
        this.session = session;
        this.ownsDevice = ownsDevice;
        Catalogue = catalogue;
        Device = device;
        Player = isAside ? LivePlayer.Aside(device, catalogue) : new LivePlayer(device, catalogue);
        Slots = new SlotMeters(Player);
        busMeter = new PathMeter(Player, Slots, TapPlace.Bus);
        Analysis = new DeskAnalysis(Player);
        Exposure = new ExposureModel(this);
        Jobs = new JobList(Say);
        Versions = new VersionsModel(this);
        Finding = new FindModel(this);
        Work = new WorkModel(this);
        Transport = new TransportModel(this);
        Monitor = new MonitorModel(Player);
        Compare = new CompareModel(this);
        Meters = new MeterModel(this);
        Spectrum = new SpectrumModel(this);
        Lanes = new LaneModel(this);
        Notes = new NotesModel(this);
        Chain = new ChainModel(this);
        Commands = DeskCommands.For(this);
        TakeSolos();
    }

    /// <summary>The album's folder.</summary>
    public string Folder => session.Folder;

    /// <summary>The album as it is.</summary>
    public Album Album => session.Album;

    /// <summary>Counts up whenever anything about the album, the song shown or the selection is another.</summary>
    public long Revision { get; private set; }

    /// <summary>Index of the song that is shown and played.</summary>
    public int SongIndex { get; private set; }

    /// <summary>The song that is shown and played.</summary>
    public Song Song => Album.Songs[SongIndex];

    /// <summary>What the desk works on: a chain, or a processor in it.</summary>
    public TapPlace Selection { get; private set; } = TapPlace.Bus;

    /// <summary>The selected stem's row, or null while the song bus is selected.</summary>
    public StemRow? SelectedStem => Selection.IsBus ? null : stems[Selection.Stem];

    /// <summary>The stems of the song.</summary>
    public IReadOnlyList<StemRow> Stems => stems;

    /// <summary>The chain that the desk works on.</summary>
    public ChainModel Chain { get; }

    /// <summary>Playing, places and loops.</summary>
    public TransportModel Transport { get; }

    /// <summary>Levels before and after the song bus, gain reduction of its processors.</summary>
    public PathMeter BusMeter => busMeter;

    /// <summary>What the ears get.</summary>
    public MonitorModel Monitor { get; }

    /// <summary>The compare strip.</summary>
    public CompareModel Compare { get; }

    /// <summary>Meters of the master.</summary>
    public MeterModel Meters { get; }

    /// <summary>The live spectrum.</summary>
    public SpectrumModel Spectrum { get; }

    /// <summary>Levels and gain reduction over the time of the song.</summary>
    public LaneModel Lanes { get; }

    /// <summary>How much sound the ears have had, once the listening level is calibrated.</summary>
    public ExposureModel Exposure { get; }

    /// <summary>What the engineer wrote down.</summary>
    public NotesModel Notes { get; }

    /// <summary>Work in the background.</summary>
    public JobList Jobs { get; }

    /// <summary>The harshness search and the masking map.</summary>
    public FindModel Finding { get; }

    /// <summary>Named snapshots of the whole album.</summary>
    public VersionsModel Versions { get; }

    /// <summary>Check, account, target, delivery, import.</summary>
    public WorkModel Work { get; }

    /// <summary>Everything that can be done, with its keys.</summary>
    public CommandList Commands { get; }

    /// <summary>What was said, the latest last.</summary>
    public IReadOnlyList<DeskMessage> Messages => messages;

    /// <summary>The processors there are.</summary>
    public ProcessorCatalogue Catalogue { get; }

    /// <summary>Where the sound goes.</summary>
    public IAudioDevice Device { get; }

    /// <summary>The player under the desk; the window reads, the desk commands.</summary>
    public LivePlayer Player { get; }

    /// <summary>Which stems are soloed.</summary>
    public SoloState Solo { get; } = new();

    /// <summary>What <see cref="Undo"/> would take back, or null.</summary>
    public string? UndoWords => session.UndoWords;

    /// <summary>What <see cref="Redo"/> would do again, or null.</summary>
    public string? RedoWords => session.RedoWords;

    /// <summary>What led here, the latest first.</summary>
    public IEnumerable<string> HistoryWords => session.Words;

    internal DeskAnalysis Analysis { get; }

    internal SlotMeters Slots { get; }

    /// <summary>Opens an album on a sound device.</summary>
    /// <param name="albumFolderOrFile">The album.</param>
    /// <param name="catalogue">The processors there are.</param>
    /// <param name="device">Where the sound goes; stays the caller's to dispose of.</param>
    /// <exception cref="AlbumException">There is no album, it breaks a rule, it holds no songs, or it is open elsewhere.</exception>
    /// <exception cref="AudioDeviceException">The device cannot start.</exception>
    public static AlbumDesk Open(string albumFolderOrFile, ProcessorCatalogue catalogue, IAudioDevice device) =>
        Open(albumFolderOrFile, catalogue, device, ownsDevice: false, isAside: false);

    /// <summary>
    /// Opens an album on the device that fits a choice; on the silent device, with a remark, where none can be had. The sound
    /// starts with <see cref="BeginSound"/>, and from then on whatever takes long for it is done on other threads.
    /// </summary>
    /// <param name="albumFolderOrFile">The album.</param>
    /// <param name="catalogue">The processors there are.</param>
    /// <param name="deviceChoice">Part of a device's name, "silent", or null for the system's own.</param>
    /// <param name="bufferFrames">Frames the device asks for at a time.</param>
    /// <exception cref="AlbumException">There is no album, it breaks a rule, it holds no songs, or it is open elsewhere.</exception>
    public static AlbumDesk Open(string albumFolderOrFile, ProcessorCatalogue catalogue, string? deviceChoice, int bufferFrames)
    {
        Album album = AlbumFile.Load(albumFolderOrFile, catalogue);
        DeviceSettings settings = new(DeskRate.For(album, AlbumFile.FolderOf(albumFolderOrFile)), bufferFrames);
        string? remark = null;
        IAudioDevice device;
        try
        {
            device = new DeviceKeeper(deviceChoice, settings);
        }
        catch (AudioDeviceException fault)
        {
            remark = $"{fault.Message}; going on without sound";
            device = new SilentDevice(settings);
        }

        try
        {
            AlbumDesk desk = Open(albumFolderOrFile, catalogue, device, ownsDevice: true, isAside: true);
            desk.Say(MessageKind.Remark, remark ?? (device as DeviceKeeper)?.Message ?? device.Name);
            return desk;
        }
        catch
        {
            device.Dispose();
            throw;
        }
    }

    /// <summary>Changes the album. Null when done (or when nothing is other), otherwise what is wrong.</summary>
    /// <param name="change">Gives the changed album, or throws <see cref="AlbumException"/>.</param>
    /// <param name="gesture">Names a movement of many steps, such as a fader being dragged, which is undone as one.</param>
    /// <param name="words">What is done, for undo; null lets the difference speak.</param>
    public string? Edit(Func<Album, Album> change, string? gesture = null, string? words = null)
    {
        Album before = Album;
        try
        {
            Album after = change(before);
            if (ReferenceEquals(after, before))
            {
                return null;
            }

            AlbumFaults faults = AlbumRules.Check(after, Catalogue);
            if (faults.Count > 0)
            {
                return Refuse(faults[0].ToString());
            }

            session.Do(after, words, gesture);
        }
        catch (AlbumException fault)
        {
            return Refuse(fault.Message);
        }

        lastEdit = clock.Elapsed.TotalSeconds;
        isInGesture = gesture is not null;
        OnAlbumChanged();
        return null;
    }

    /// <summary>Changes the song that is shown.</summary>
    public string? EditSong(Func<Song, Song> change, string? gesture = null, string? words = null) =>
        Edit(album => change(album.Songs[SongIndex]) is { } song && !ReferenceEquals(song, album.Songs[SongIndex])
            ? album with { Songs = album.Songs.SetItem(SongIndex, song) }
            : album, gesture, words);

    /// <summary>Sets a value by its address, as the command <c>set</c> does.</summary>
    public string? Set(string address, string value) => Edit(album => AlbumAddress.Set(album, address, value, Catalogue));

    /// <summary>Ends a movement: what follows is undone on its own.</summary>
    public void EndGesture()
    {
        session.EndGesture();
        isInGesture = false;
    }

    /// <summary>Takes the latest step back; returns its words, or null when there is none.</summary>
    public string? Undo() => Step(session.UndoWords, session.Undo);

    /// <summary>Does again what was taken back last; returns its words, or null when there is none.</summary>
    public string? Redo() => Step(session.RedoWords, session.Redo);

    /// <summary>Saves the album now; it is saved by itself soon after every change too.</summary>
    public void Save() => session.Save();

    /// <summary>Shows and plays a song by its index.</summary>
    public void ShowSong(int index)
    {
        int inside = Math.Clamp(index, 0, Album.Songs.Length - 1);
        if (inside == SongIndex)
        {
            return;
        }

        Compare.Stop();
        SongIndex = inside;
        Selection = TapPlace.Bus;
        Analysis.AskToClearSpectra();
        Transport.OnSongChanged();
        OnAlbumChanged();
        PutTaps();
    }

    /// <summary>Makes a chain or a processor what the desk works on.</summary>
    public void Select(TapPlace place)
    {
        Selection = ChainPlace.Nearest(Song, place);
        Revision++;
        Chain.Refresh();
        Compare.OnSelection();
        PutTaps();
    }

    /// <summary>Selects the next stem (1) or the one before (−1); the song bus stands behind the last.</summary>
    public void SelectStem(int step)
    {
        int count = stems.Count + 1;
        int now = Selection.IsBus ? stems.Count : Selection.Stem;
        int next = ((now + step) % count + count) % count;
        Select(next == stems.Count ? TapPlace.Bus : TapPlace.OfStem(next));
    }

    /// <summary>Solo of a stem on or off.</summary>
    public void ToggleSolo(int stem, bool alone = false)
    {
        Solo.Toggle(SongIndex, Song.Stems[stem].Name, alone);
        Revision++;
        ShowSong();
    }

    /// <summary>No stem of the song is soloed.</summary>
    public void ClearSolo()
    {
        Solo.Clear(SongIndex);
        Revision++;
        ShowSong();
    }

    /// <summary>Says something to the person at the desk.</summary>
    public void Say(MessageKind kind, string text)
    {
        messages.Add(new DeskMessage(DateTimeOffset.Now, kind, text));
        if (messages.Count > RememberedMessages)
        {
            messages.RemoveAt(0);
        }
    }

    /// <summary>Once a picture: takes in what came from the sound, the disk and the jobs.</summary>
    public void Update()
    {
        double now = clock.Elapsed.TotalSeconds;
        double seconds = now - lastPicture;
        lastPicture = now;
        if (now - lastUpdate >= UpdateSeconds)
        {
            lastUpdate = now;
            UpdatePlayer();
        }

        if (isInGesture && now - lastEdit > GestureSeconds)
        {
            EndGesture();
        }

        Slots.Update();
        foreach (StemRow row in stems)
        {
            row.UpdateMeters(seconds);
        }

        busMeter.Update(seconds);
        Chain.UpdateMeters(seconds);
        Transport.Update();
        Meters.Update();
        Spectrum.Update();
        Lanes.Update();
        Exposure.Update();
        Jobs.Update();
        if (session.TakeFailure() is { } failure)
        {
            Say(MessageKind.Trouble, failure);
        }
    }

    /// <summary>Starts the sound of a desk that was opened by a choice of device; a window shows its first picture before.</summary>
    public void BeginSound() => Player.StartAside();

    /// <summary>Stops the sound, ends the jobs and saves.</summary>
    public void Dispose()
    {
        Jobs.Dispose();
        Player.Dispose();
        Analysis.Dispose();
        if (ownsDevice)
        {
            Device.Dispose();
        }

        session.Dispose();
    }

    /// <summary>Hands the song, as it is to be heard, to the player.</summary>
    internal void ShowSong()
    {
        try
        {
            Player.Show(Solo.Apply(SongIndex, Song), Folder);
        }
        catch (Exception fault) when (fault is AudioFileException or IOException)
        {
            Say(MessageKind.Trouble, fault.Message);
        }
    }

    internal void PutTaps()
    {
        TapPlace place = Spectrum.ShowsSong ? TapPlace.Bus : Selection;
        if (place != tapped)
        {
            tapped = place;
            Player.Tap(place);
            Analysis.AskToClearSpectra();
        }
    }

    private static AlbumDesk Open(string albumFolderOrFile, ProcessorCatalogue catalogue, IAudioDevice device, bool ownsDevice, bool isAside)
    {
        AlbumSession session = AlbumSession.Open(albumFolderOrFile, catalogue, Albums.Journal.Unsaved.TakeIn);
        try
        {
            if (session.Album.Songs.IsEmpty)
            {
                throw new AlbumException($"{session.Folder}: the album has no songs; 'livestems import' brings some in");
            }

            AlbumDesk desk = new(session, catalogue, device, ownsDevice, isAside);
            desk.OnAlbumChanged();
            if (session.Remark is { } remark)
            {
                desk.Say(MessageKind.Remark, remark);
            }

            return desk;
        }
        catch
        {
            session.Dispose();
            throw;
        }
    }

    private void UpdatePlayer()
    {
        if (Device is DeviceKeeper keeper)
        {
            KeptDeviceState before = keeper.State;
            if (keeper.Update() is KeptDeviceState.Lost or KeptDeviceState.Returned && keeper.State != before)
            {
                Say(MessageKind.Trouble, keeper.Message);
            }
        }

        try
        {
            foreach (string trouble in Player.Update())
            {
                Say(MessageKind.Trouble, trouble);
            }
        }
        catch (Exception fault) when (fault is AudioFileException or IOException)
        {
            Say(MessageKind.Trouble, fault.Message);
        }
    }

    private string? Step(string? words, Func<bool> step)
    {
        try
        {
            if (!step())
            {
                return null;
            }
        }
        catch (AlbumException fault)
        {
            Say(MessageKind.Trouble, fault.Message);
            return null;
        }

        isInGesture = false;
        OnAlbumChanged();
        return words;
    }

    private void OnAlbumChanged()
    {
        Revision++;
        SongIndex = Math.Min(SongIndex, Album.Songs.Length - 1);
        Selection = ChainPlace.Nearest(Song, Selection);
        while (stems.Count > Song.Stems.Length)
        {
            stems.RemoveAt(stems.Count - 1);
        }

        while (stems.Count < Song.Stems.Length)
        {
            stems.Add(new StemRow(this, stems.Count));
        }

        stems.ForEach(row => row.Refresh());
        Chain.Refresh();
        Slots.Refresh(Song);
        Lanes.OnSongChanged();
        ShowSong();
    }

    /// <summary>The levels at both ends of a chain; null where the song has none.</summary>
    internal PathMeter? MeterOf(TapPlace chain) => chain.IsBus ? busMeter
        : chain.Stem >= stems.Count ? null
        : chain.Parallel < 0 ? stems[chain.Stem].Meter
        : chain.Parallel < stems[chain.Stem].Parallels.Count ? stems[chain.Stem].Parallels[chain.Parallel].Meter : null;

    internal string Refuse(string line)
    {
        Say(MessageKind.Refusal, line);
        return line;
    }

    private void TakeSolos()
    {
        for (int song = 0; song < Album.Songs.Length; song++)
        {
            foreach (Stem stem in Album.Songs[song].Stems.Where(stem => stem.Placement.Soloed))
            {
                Solo.Toggle(song, stem.Name, alone: false);
            }
        }
    }
}
