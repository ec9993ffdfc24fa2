using LiveStems.Albums.Model;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Monitor;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.Streaming;
using LiveStems.Files;
using LiveStems.Files.Reading;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Engine.Live;

/// <summary>
/// Plays songs to a device while everything about them may change. All members belong to one control thread, which also
/// calls <see cref="Update"/> some twenty times a second.
/// </summary>
public sealed partial class LivePlayer : IDisposable
{
    // New processors run along unheard for so long before they are faded in.
    private const double SettleSeconds = 0.05;
    private const int ShortestBlock = 16;
    private const int LongestBlock = 4096;
    private const double LookAheadSeconds = 2;
    private const double LongestTailSeconds = 5;

    private ProcessorCatalogue catalogue;
    private readonly PlanOptions options;
    private readonly LiveRenderer renderer;
    private readonly IAudioRenderer source;
    private LoadedSong? playing;
    private LoadedSong? arriving;
    private SongRequest? wanted;
    private string? dropped;
    private readonly AlbumListening albumListening = new();
    private readonly List<string> troubles = [];
    private readonly List<string> lastTroubles = [];
    private readonly YoungMemory youngMemory = new();

    /// <summary>Starts a device; songs run at its rate.</summary>
    /// <param name="device">Where the sound goes; it stays the caller's to dispose of.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="tap">Put between the player and the device, for instance to record; may be null.</param>
    /// <exception cref="AudioDeviceException">The device cannot start.</exception>
    public LivePlayer(IAudioDevice device, ProcessorCatalogue catalogue, Func<IAudioRenderer, IAudioRenderer>? tap = null)
        : this(device, catalogue, tap, TimeProvider.System, AudioFile.Open)
    {
    }

    /// <summary>
    /// A player that opens stems, compiles plans and starts its device on other threads, so that the control thread never
    /// waits: for windows. It starts with <see cref="StartAside"/>; what it is asked for before is done then. What cannot
    /// be opened is told by <see cref="Update"/>.
    /// </summary>
    /// <param name="device">Where the sound goes; it stays the caller's to dispose of.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="tap">Put between the player and the device, for instance to record; may be null.</param>
    public static LivePlayer Aside(IAudioDevice device, ProcessorCatalogue catalogue, Func<IAudioRenderer, IAudioRenderer>? tap = null) =>
        new(device, catalogue, tap, TimeProvider.System, AudioFile.Open, isAside: true);

    internal LivePlayer(
        IAudioDevice device,
        ProcessorCatalogue catalogue,
        Func<IAudioRenderer, IAudioRenderer>? tap,
        TimeProvider clock,
        Func<string, IAudioReader> openFile,
        bool isAside = false)
    {
        this.isAside = isAside;
        Device = device;
        SampleRate = device.SampleRate;
        this.catalogue = catalogue;
        int maximumFrames = Math.Clamp(device.BufferFrames, ShortestBlock, LongestBlock);
        options = new PlanOptions(maximumFrames, (int)(LookAheadSeconds * SampleRate), SampleRate) { IsLive = true, Clock = clock, OpenFile = openFile, Guard = new OutsideGuard(TimeProvider.System) };
        Comparing = new LiveComparison(Compare);
        renderer = new LiveRenderer(SampleRate, maximumFrames, NewSwitch(), clock);
        source = tap is null ? renderer : tap(renderer);
        if (!isAside)
        {
            Start();
        }
    }

    /// <summary>
    /// Has the runtime compile what a player needs on another thread, while the caller still reads the album and opens the
    /// device: the first sound comes the sooner.
    /// </summary>
    public static void PrepareAhead() => _ = Task.Run(CodeWarmUp.Run);

    /// <summary>Where the sound goes.</summary>
    public IAudioDevice Device { get; }

    /// <summary>Rate the songs run at.</summary>
    public int SampleRate { get; }

    /// <summary>The song as it plays or is about to.</summary>
    public Song? Song => Latest?.Song;

    /// <summary>What is compared, and which side of it is heard.</summary>
    public LiveComparison Comparing { get; }

    /// <summary>
    /// True when songs are heard as they stand on the album: cut and faded at their ends, behind their gaps or cross-faded with
    /// the song before. The end of a song is that of its longest stem here; on a delivered album it is that of what rings on.
    /// </summary>
    public bool IsAsOnAlbum
    {
        get => albumListening.IsOn;
        set => albumListening.IsOn = value;
    }

    /// <summary>What the listener should know about the song.</summary>
    public IReadOnlyList<string> Remarks => (arriving ?? playing)?.Plan.Remarks ?? [];

    /// <summary>Stems that are converted to the rate that songs run at, a line each, and the title of their song; null before one has come.</summary>
    public (string? Song, IReadOnlyList<string> Lines) Converted =>
        (arriving ?? playing) is { } loaded ? (loaded.Request.Song.Title, loaded.Plan.Converted) : (null, []);

    /// <summary>Sets the monitor.</summary>
    public void SetMonitor(MonitorSettings settings)
    {
        monitorAtStart = settings;
        if (HasStarted)
        {
            renderer.Monitor.Post(settings);
        }
    }

    /// <summary>
    /// Plays a song, or the same song changed: values glide, chains are cross-faded, other stems are opened. Of several
    /// changes in quick succession the last one counts. A comparison goes on with the changed song; where that has nothing
    /// to compare any more, it ends, and <see cref="Update"/> says so.
    /// </summary>
    /// <exception cref="AudioFileException">A stem cannot be opened; what played goes on.</exception>
    public void Show(Song song, string albumFolder)
    {
        Show(RequestFor(song, albumFolder));
    }

    /// <summary>
    /// Lets go of what no longer plays, brings in what waits, and tells what went wrong since the last call: also which
    /// processors a plan that has just come does without, once for each song.
    /// </summary>
    public IReadOnlyList<string> Update()
    {
        GoOn();
        return TakeTroubles();
    }

    private SongSwitch NewSwitch() =>
        new(options.MaximumFrames, PlanTiming.RampFrames(SampleRate), (int)(SettleSeconds * SampleRate), (int)(LongestTailSeconds * SampleRate));

    private void GoOn()
    {
        if (!NoticeStart())
        {
            return;
        }

        NoticeLost();
        NoticeFollowing();
        FinishArrival();
        TakePrepared();
        if (wanted is { } next && preparation is null && renderer.Songs.IsReady)
        {
            wanted = null;
            Bring(next);
        }

        if (wanted is not null)
        {
            renderer.Songs.HurryTail();
        }

        Comparing.Update(loop is null ? null : (double)loop.Frames / SampleRate);
        PrepareFollowing();
        EndWatchWhereNobodyNeedsIt();
    }

    /// <summary>Stops the device and closes everything.</summary>
    public void Dispose()
    {
        EndAside();
        Device.Stop();
        youngMemory.Dispose();
        watched?.Dispose();
        foreach (LoadedSong loaded in new[] { playing, arriving, following }.OfType<LoadedSong>().DistinctBy(loaded => loaded.Streamer))
        {
            loaded.Close();
        }

        foreach (LoadedSong loaded in new[] { playing, arriving, following }.OfType<LoadedSong>())
        {
            loaded.Plan.Release();
        }

        playing = arriving = following = null;
    }

    // Of a song that has begun at the end of another what rings on is still under way. One that is only offered starts with the
    // values it is to have.
    private LoadedSong? Heard => arriving is null || hasFollowed ? arriving ?? playing : null;

    private SongRequest? Latest => wanted ?? preparing ?? arriving?.Request ?? playing?.Request;

    private void Compare(Comparison? comparison)
    {
        if (Latest is { } latest)
        {
            Show(SongRequest.For(latest.Song, latest.Folder, comparison));
        }
    }

    private void Show(SongRequest request)
    {
        // What was to come is not wanted any more.
        jumpOnArrival = JumpFor(request);
        if (!mustCompile && wanted is null && preparation is null && Heard is { } heard && TryPost(heard, request))
        {
            return;
        }

        wanted = request;
        GoOn();
    }

    private static bool TryPost(LoadedSong loaded, SongRequest request)
    {
        if (!loaded.CanPlay(request) || !PlanUpdate.TryPost(loaded.Plan, request.Songs))
        {
            return false;
        }

        loaded.Request = request;
        return true;
    }

    private void Bring(SongRequest request)
    {
        if (!mustCompile && playing is not null && TryPost(playing, request))
        {
            return;
        }

        mustCompile = false;
        bool hasOtherStems = playing?.CanPlay(request) != true;
        if (hasOtherStems && !DropFollowing())
        {
            wanted = request;
            return;
        }

        LoopRegion? before = loop;
        loopBefore = loop;
        try
        {
            loop = hasOtherStems && playing?.Request.IsSameSong(request) != true ? null : loop;
            Prepare(request);
        }
        catch (AudioFileException)
        {
            // What played goes on, in its loop, where it is.
            loop = before;
            jumpOnArrival = null;
            throw;
        }
    }

    private PlayingSong Ready(LoadedSong loaded, SideMix? sides, SongEdges? before = null)
    {
        SongSources sources = loaded.Plan.Sources;
        return new PlayingSong(loaded.Plan.Plan, sources.Head, [.. sources.Pumps.Select(pump => pump.Feed)], sources.Frames, sides, new SongOnAlbum(loaded.Request.Song.Edges, before, sources.Frames, SampleRate, PlanTiming.RampFrames(SampleRate), albumListening));
    }

    private void FinishArrival()
    {
        if (arriving is null || (playing is not null && renderer.Songs.TakeRetired() is null))
        {
            return;
        }

        playing?.TakeTroubles(lastTroubles);
        if (playing is not null && !ReferenceEquals(playing.Streamer, arriving.Streamer))
        {
            playing.Close();
        }

        LetGo(playing);
        playing = arriving;
        arriving = null;
        PutTaps();
    }

    private IReadOnlyList<string> TakeTroubles()
    {
        troubles.Clear();
        if (Interlocked.Exchange(ref dropped, null) is { } reason)
        {
            troubles.Add(reason);
        }

        if (Interlocked.Exchange(ref followingFault, null) is { } fault)
        {
            troubles.Add($"the next song cannot be played: {fault.Message}");
        }

        if (Interlocked.Exchange(ref asideFault, null) is { } asideTrouble)
        {
            troubles.Add(asideTrouble);
        }

        troubles.AddRange(lastTroubles);
        lastTroubles.Clear();
        TakeLacks(troubles);
        playing?.TakeTroubles(troubles);
        return troubles.Count == 0 ? [] : [.. troubles];
    }
}
