using System.Diagnostics;
using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Live;
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
    private const double UpdateSeconds = 0.02;

    private readonly AlbumSession session;
    private readonly bool ownsDevice;
    private readonly StemRows stems;
    private readonly MessageList messages = new();
    private readonly AlbumEditing editing;
    private readonly DeskSound sound;
    private readonly PathMeter busMeter;
    private readonly Stopwatch clock = Stopwatch.StartNew();
    private double lastPicture;
    private double lastUpdate;

    private AlbumDesk(AlbumSession session, ProcessorCatalogue catalogue, IAudioDevice device, bool ownsDevice, bool isAside)
    {
        this.session = session;
        this.ownsDevice = ownsDevice;
        Catalogue = catalogue;
        editing = new AlbumEditing(session, () => Catalogue, Say, OnAlbumChanged);
        stems = new StemRows(this);
        Device = device;
        Player = isAside ? LivePlayer.Aside(device, catalogue) : new LivePlayer(device, catalogue);
        sound = new DeskSound(Player, device, Say);
        Slots = new SlotMeters(Player);
        busMeter = new PathMeter(Player, Slots, TapPlace.Bus);
        Analysis = new DeskAnalysis(Player);
        Exposure = new ExposureModel(this);
        Jobs = new JobList(Say);
        Versions = new VersionsModel(this);
        Finding = new FindModel(this);
        Work = new WorkModel(this);
        Songs = new SongsModel(this);
        Transport = new TransportModel(this);
        Monitor = new MonitorModel(Player);
        Compare = new CompareModel(this);
        Meters = new MeterModel(this);
        Spectrum = new SpectrumModel(this);
        Lanes = new LaneModel(this);
        Notes = new NotesModel(this);
        Chain = new ChainModel(this);
        Commands = DeskCommands.For(this);
        Solo.TakeFrom(Album);
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
    public StemRow? SelectedStem => Selection.IsBus ? null : Stems[Selection.Stem];

    /// <summary>The stems of the song.</summary>
    public IReadOnlyList<StemRow> Stems => stems.All;

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

    /// <summary>The songs in the order of the album.</summary>
    public SongsModel Songs { get; }

    /// <summary>Check, account, target, delivery, import.</summary>
    public WorkModel Work { get; }

    /// <summary>Everything that can be done, with its keys.</summary>
    public CommandList Commands { get; }

    /// <summary>What was said, the latest last.</summary>
    public IReadOnlyList<DeskMessage> Messages => messages.All;

    /// <summary>The processors there are.</summary>
    public ProcessorCatalogue Catalogue { get; private set; }

    /// <summary>Looks at the processors folder while the desk is open; null where nobody does.</summary>
    public ProcessorWatch? ProcessorWatch { get; set; }

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
        (IAudioDevice device, string remark) = DeskOpening.Device(albumFolderOrFile, catalogue, deviceChoice, bufferFrames);
        try
        {
            AlbumDesk desk = Open(albumFolderOrFile, catalogue, device, ownsDevice: true, isAside: true);
            desk.Say(MessageKind.Remark, remark);
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
    public string? Edit(Func<Album, Album> change, string? gesture = null, string? words = null) => editing.Do(change, gesture, words);

    /// <summary>Changes the song that is shown.</summary>
    public string? EditSong(Func<Song, Song> change, string? gesture = null, string? words = null) =>
        Edit(album => change(album.Songs[SongIndex]) is { } song && !ReferenceEquals(song, album.Songs[SongIndex])
            ? album with { Songs = album.Songs.SetItem(SongIndex, song) }
            : album, gesture, words);

    /// <summary>Sets a value by its address, as the command <c>set</c> does.</summary>
    public string? Set(string address, string value) => Edit(album => AlbumAddress.Set(album, address, value, Catalogue));

    /// <summary>Ends a movement: what follows is undone on its own.</summary>
    public void EndGesture() => editing.EndGesture();

    /// <summary>Takes the latest step back; returns its words, or null when there is none.</summary>
    public string? Undo() => editing.Undo();

    /// <summary>Does again what was taken back last; returns its words, or null when there is none.</summary>
    public string? Redo() => editing.Redo();

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

    /// <summary>Moves a song to another place; the song that is shown stays the same.</summary>
    internal string? MoveSong(int song, int to, string words)
    {
        int shown = SongIndex;
        SongIndex = shown == song ? to : shown > song && shown <= to ? shown - 1 : shown < song && shown >= to ? shown + 1 : shown;
        string? fault = Edit(album => album with { Songs = album.Songs.RemoveAt(song).Insert(to, album.Songs[song]) }, words: words);
        SongIndex = fault is null ? SongIndex : shown;
        return fault;
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
        int count = Stems.Count + 1;
        int now = Selection.IsBus ? Stems.Count : Selection.Stem;
        int next = ((now + step) % count + count) % count;
        Select(next == Stems.Count ? TapPlace.Bus : TapPlace.OfStem(next));
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
    public void Say(MessageKind kind, string text) => messages.Say(kind, text);

    /// <summary>Once a picture: takes in what came from the sound, the disk and the jobs.</summary>
    public void Update()
    {
        double now = clock.Elapsed.TotalSeconds;
        double seconds = now - lastPicture;
        lastPicture = now;
        if (now - lastUpdate >= UpdateSeconds)
        {
            lastUpdate = now;
            TakeNewProcessors();
            sound.Update();
        }

        editing.Update();
        Slots.Update();
        stems.Update(seconds);
        busMeter.Update(seconds);
        Chain.UpdateMeters(seconds);
        Transport.Update();
        Meters.Update();
        Spectrum.Update();
        Lanes.Update();
        Exposure.Update();
        Songs.Update();
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
    internal void ShowSong() => sound.Show(Solo.Apply(SongIndex, Song), Folder);

    internal void PutTaps()
    {
        if (sound.Tap(Spectrum.ShowsSong ? TapPlace.Bus : Selection))
        {
            Analysis.AskToClearSpectra();
        }
    }

    private static AlbumDesk Open(string albumFolderOrFile, ProcessorCatalogue catalogue, IAudioDevice device, bool ownsDevice, bool isAside)
    {
        AlbumSession session = DeskOpening.Album(albumFolderOrFile, catalogue);
        try
        {
            AlbumDesk desk = new(session, catalogue, device, ownsDevice, isAside);
            desk.OnAlbumChanged();
            if (session.Remark is { } remark)
            {
                desk.Say(MessageKind.Remark, remark);
            }

            foreach (string absent in AbsentProcessors.In(session.Album, catalogue))
            {
                desk.Say(MessageKind.Remark, absent);
            }

            return desk;
        }
        catch
        {
            session.Dispose();
            throw;
        }
    }

    // What outside code plays and what the fields show of it is another from now on.
    private void TakeNewProcessors()
    {
        if (ProcessorWatch?.TakeChange() is not { } change)
        {
            return;
        }

        Catalogue = change.Host.Catalogue;
        Player.Replace(Catalogue);
        OnAlbumChanged();
        foreach (string news in change.News)
        {
            Say(MessageKind.Remark, news);
        }
    }

    private void OnAlbumChanged()
    {
        Revision++;
        SongIndex = Math.Min(SongIndex, Album.Songs.Length - 1);
        Selection = ChainPlace.Nearest(Song, Selection);
        stems.Refresh();
        Chain.Refresh();
        Slots.Refresh(Song);
        Lanes.OnSongChanged();
        ShowSong();
    }

    /// <summary>The levels at both ends of a chain; null where the song has none.</summary>
    internal PathMeter? MeterOf(TapPlace chain) => chain.IsBus ? busMeter : stems.MeterOf(chain);

    internal string Refuse(string line)
    {
        Say(MessageKind.Refusal, line);
        return line;
    }
}
