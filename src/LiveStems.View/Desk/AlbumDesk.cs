using System.Diagnostics;
using LiveStems.Albums;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Live;
using LiveStems.Engine.Planning;
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
public sealed partial class AlbumDesk : IDisposable
{
    private const double UpdateSeconds = 0.02;
    private const double FaultSeconds = 0.25;

    private readonly AlbumSession session;
    private readonly bool ownsDevice;
    private readonly StemRows stems;
    private readonly MessageList messages = new(TimeProvider.System);
    private readonly AlbumEditing editing;
    private readonly DeskSound sound;
    private readonly PathMeter busMeter;
    private readonly WholeAlbum whole;
    private readonly Stopwatch clock = Stopwatch.StartNew();
    private Album followed;
    private double lastPicture;
    private double lastUpdate;
    private double lastFaults;

    private AlbumDesk(AlbumSession session, ProcessorCatalogue catalogue, IAudioDevice device, bool ownsDevice, bool isAside)
    {
        this.session = session;
        this.ownsDevice = ownsDevice;
        Catalogue = catalogue;
        followed = session.Album;
        editing = new AlbumEditing(session, () => Catalogue, Say, OnAlbumChanged);
        stems = new StemRows(this);
        Device = device;
        Recording = new RecordingModel(this);
        Player = isAside ? LivePlayer.Aside(device, catalogue, Recording.Tap) : new LivePlayer(device, catalogue, Recording.Tap);
        whole = new WholeAlbum(Player);
        sound = new DeskSound(Player, device, Say);
        Slots = new SlotMeters(Player);
        busMeter = new PathMeter(Player, Slots, TapPlace.Bus);
        Analysis = new DeskAnalysis(Player);
        Exposure = new ExposureModel(this);
        Jobs = new JobList(Say);
        Versions = new VersionsModel(this);
        Finding = new FindModel(this);
        Parallels = new ParallelChecks(this);
        Probed = new ProbeModel(this);
        Work = new WorkModel(this);
        Songs = new SongsModel(this);
        Titles = new TitlesModel(this);
        Targets = new TargetsModel(this);
        Devices = new DevicesModel(this);
        Outside = new OutsideModel(this);
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

    /// <summary>Checks of parallels against their stems.</summary>
    public ParallelChecks Parallels { get; }

    /// <summary>What the probe says about the selected processor.</summary>
    public ProbeModel Probed { get; }

    /// <summary>Named snapshots of the whole album.</summary>
    public VersionsModel Versions { get; }

    /// <summary>The songs in the order of the album.</summary>
    public SongsModel Songs { get; }

    /// <summary>Titles, artist, recording code, rate and rough mix.</summary>
    public TitlesModel Titles { get; }

    /// <summary>What masters aim at.</summary>
    public TargetsModel Targets { get; }

    /// <summary>The sound devices there are, and which of them plays.</summary>
    public DevicesModel Devices { get; }

    /// <summary>The processors folder: which files of others may run, and where.</summary>
    public OutsideModel Outside { get; }

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

    /// <summary>Recording what the monitor plays.</summary>
    public RecordingModel Recording { get; }

    /// <summary>Which stems are soloed.</summary>
    public SoloState Solo { get; } = new();

    /// <summary>What processors of others have done so far in all that was played since the album was opened; looked at some times a second.</summary>
    public IReadOnlyList<OutsideUse> OutsideUses { get; private set; } = [];

    internal DeskAnalysis Analysis { get; }

    internal SlotMeters Slots { get; }

    /// <summary>Says something to the person at the desk.</summary>
    public void Say(MessageKind kind, string text) => messages.Say(kind, text);

    /// <summary>Says what was refused, unless the desk has just said so itself; nothing for null.</summary>
    internal void Tell(string? refusal) => messages.Refuse(refusal);

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
            GoOnWithNext();
            Recording.Update();
            Devices.Update();
        }

        if (now - lastFaults >= FaultSeconds)
        {
            lastFaults = now;
            OutsideUses = Player.Outside;
        }

        editing.Update();
        Compare.Update();
        Slots.Update();
        stems.Update(seconds);
        busMeter.Update(seconds);
        Chain.UpdateMeters(seconds);
        Transport.Update();
        Meters.Update();
        Spectrum.Update();
        Lanes.Update();
        Exposure.Update();
        Probed.Update();
        Songs.Update();
        Jobs.Update();
        if (session.TakeFailure() is { } failure)
        {
            Say(MessageKind.Trouble, failure);
        }
    }

    /// <summary>Stops the sound, ends the jobs and saves.</summary>
    public void Dispose()
    {
        Probed.Dispose();
        Jobs.Dispose();
        KeepFaults();
        Player.Dispose();
        string? lostRecording = Recording.End();
        Analysis.Dispose();
        if (ownsDevice)
        {
            Device.Dispose();
        }

        session.Dispose();
        string? lostAlbum = session.Rescue();
        NotSaved ??= lostAlbum is null ? lostRecording : lostRecording is null ? lostAlbum : $"{lostAlbum}; {lostRecording}";
    }

    /// <summary>Once it is disposed of: one line that says what of album and recording could not be saved, where, and what to do; null when all is on the disk.</summary>
    public string? NotSaved { get; private set; }

    /// <summary>Hands the song, as it is to be heard, to the player.</summary>
    internal void ShowSong()
    {
        FollowNext();
        sound.Show(AsHeard(Song), Folder);
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
        sound.KnowOnly(MissingOnOpening.Lines(Album, Catalogue));
        DeskCommands.FollowProcessors(Commands, this);
        OnAlbumChanged();
        Outside.Changed();
        foreach (ProcessorNews news in change.News)
        {
            Say(MessageKind.Remark, news.Command is null ? news.Words : $"{news}, or here with {OutsideModel.PageKey}");
        }
    }

    private void KeepFaults()
    {
        if (ProcessorWatch is { } watch)
        {
            FaultLog.Add(watch.Places, Player.Outside, DateTimeOffset.Now);
        }
    }

    private void OnAlbumChanged()
    {
        Revision++;
        FollowSongs();
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
