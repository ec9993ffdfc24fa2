using LiveStems.Albums.Model;
using LiveStems.Dsp;
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
    private const int WarmUpBlocks = 4;
    private const int WarmUpFrames = 8192;
    private const double LongestTailSeconds = 5;

    private ProcessorCatalogue catalogue;
    private readonly PlanOptions options;
    private readonly LiveRenderer renderer;
    private readonly IAudioRenderer source;
    private LoadedSong? playing;
    private LoadedSong? arriving;
    private SongRequest? wanted;
    private LoopRegion? loop;
    private LoopRegion? loopBefore;
    private string? dropped;
    private readonly AlbumListening albumListening = new();
    private readonly List<string> troubles = [];

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
    public static LivePlayer Aside(IAudioDevice device, ProcessorCatalogue catalogue) =>
        new(device, catalogue, null, TimeProvider.System, AudioFile.Open, isAside: true);

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

    /// <summary>Starts to play from where it stands.</summary>
    public void Play() => SetPlaying(true);

    /// <summary>Stops; the position stays.</summary>
    public void Stop() => SetPlaying(false);

    /// <summary>Goes to a place in the song, playing or not, without a stall.</summary>
    public void JumpTo(double seconds, (double Start, double End)? loop = null)
    {
        if (IsOpening || (arriving ?? playing) is null)
        {
            jumpOnArrival = (seconds, loop);
        }

        if ((arriving ?? playing) is not { } loaded)
        {
            return;
        }

        long frame = Math.Clamp((long)Math.Round(seconds * SampleRate), 0, loaded.Plan.Sources.Frames);
        this.loop = Region(loaded, loop);
        loaded.Streamer.JumpTo(this.loop is null ? frame : Math.Min(frame, this.loop.EndFrame - 1), this.loop);
    }

    /// <summary>
    /// Loops a stretch, or no more. The music goes on as it does where it is inside the stretch; otherwise it goes to its start.
    /// </summary>
    /// <param name="stretch">Start and end in seconds; null for no loop.</param>
    public void SetLoop((double Start, double End)? stretch)
    {
        if (IsOpening || (arriving ?? playing) is not { } loaded)
        {
            JumpTo(stretch?.Start ?? 0, stretch);
            return;
        }

        LoopRegion? region = Region(loaded, stretch);
        long next = loaded.Plan.Sources.Head.Position;
        if (region is null || (next >= region.StartFrame && next < region.EndFrame))
        {
            loop = region;
            loaded.Streamer.GoOn(region);
        }
        else
        {
            // What is heard may be inside still when what comes next is not.
            double heard = HeardSeconds;
            JumpTo(heard >= stretch!.Value.Start && heard < stretch.Value.End ? heard : stretch.Value.Start, stretch);
        }
    }

    /// <summary>
    /// Lets go of what no longer plays, brings in what waits, and tells what went wrong since the last call.
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
    }

    /// <summary>What to show now; peaks start afresh.</summary>
    public PlayerState Look()
    {
        LoadedSong? loaded = arriving ?? playing;
        (float left, float right) = renderer.Meters.TakePeaks();
        return new PlayerState(
            Song?.Title,
            loaded?.ShouldPlay ?? playsOnArrival,
            HeardSeconds,
            loaded is null ? 0 : (double)loaded.Plan.Sources.Frames / SampleRate - (IsAsOnAlbum ? loaded.Request.Song.Edges.TrimEndSeconds : 0),
            renderer.Meters.MomentaryLufs,
            renderer.Meters.ShortTermLufs,
            Decibels.FromAmplitude(left),
            Decibels.FromAmplitude(right),
            loaded?.MissedFrames ?? 0,
            Device.Statistics)
        {
            LoadLevel = renderer.Governor.Level,
            LoadDrops = (renderer.Governor.Entries(LoadLevel.WithoutMeters), renderer.Governor.Entries(LoadLevel.WithoutViews), renderer.Governor.Entries(LoadLevel.Faded)),
            LateStems = loaded?.LateStems ?? [],
            HasFollowing = wantedFollowing is not null,
            Outside = tally.With(playing?.Plan),
        };
    }

    /// <summary>Stops the device and closes everything.</summary>
    public void Dispose()
    {
        EndAside();
        Device.Stop();
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

    private void SetPlaying(bool isPlaying)
    {
        playsOnArrival = isPlaying;
        foreach (LoadedSong loaded in new[] { playing, arriving, following }.OfType<LoadedSong>())
        {
            loaded.ShouldPlay = isPlaying;
        }
    }

    // Of a song that has begun at the end of another what rings on is still under way. One that is only offered starts with the
    // values it is to have.
    private LoadedSong? Heard => arriving is null || hasFollowed ? arriving ?? playing : null;

    private double HeardSeconds =>
        (arriving ?? playing)?.Plan is { } plan ? (double)Math.Max(0, plan.Sources.Head.Position - plan.LatencyFrames) / SampleRate : 0;

    private LoopRegion? Region(LoadedSong loaded, (double Start, double End)? stretch)
    {
        if (stretch is not { } wantedLoop)
        {
            return null;
        }

        long start = Math.Clamp((long)Math.Round(wantedLoop.Start * SampleRate), 0, loaded.Plan.Sources.Frames);
        long shortest = 4L * PlanTiming.RampFrames(SampleRate);
        return new LoopRegion(start, Math.Max(start + shortest, (long)Math.Round(wantedLoop.End * SampleRate)));
    }

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
        if (!mustCompile && wanted is null && preparation is null && Heard is { } heard && TryPost(heard, request))
        {
            PostToSpare(request);
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
            PostToSpare(request);
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

    // Everything the audio thread will run is compiled by the runtime here and not there. A limiter that never limits and a
    // compressor that never compresses would compile the rest when the song becomes loud: so a plan of our own processors, whose
    // inputs nobody else uses yet, hears noise at full scale, for longer than it takes until they look after tiny states.
    private void WarmUp(SongPlan plan, bool isAlone = false)
    {
        bool isLoud = isAlone && !plan.RunsForeignCode;
        int blocks = isLoud ? Math.Max(WarmUpBlocks, (WarmUpFrames + options.MaximumFrames - 1) / options.MaximumFrames) : WarmUpBlocks;
        Random noise = new(0);
        for (int i = 0; i < blocks; i++)
        {
            if (isLoud)
            {
                FillInputs(plan, noise);
            }

            plan.Plan.Run(options.MaximumFrames);
        }

        if (isLoud)
        {
            FillInputs(plan, null);
        }

        plan.Plan.Reset();
    }

    // Both sides of their own, so that what works on their difference has something to do; without noise, silence.
    private static void FillInputs(SongPlan plan, Random? noise)
    {
        foreach (StereoBuffer input in plan.Sources.Pumps.Select(pump => pump.Feed.Input))
        {
            for (int i = 0; i < input.Left.Length; i++)
            {
                input.Left[i] = noise is null ? 0 : 2 * noise.NextSingle() - 1;
                input.Right[i] = noise is null ? 0 : 2 * noise.NextSingle() - 1;
            }
        }
    }

    private void FinishArrival()
    {
        if (arriving is null || (playing is not null && renderer.Songs.TakeRetired() is null))
        {
            return;
        }

        if (playing is not null && !ReferenceEquals(playing.Streamer, arriving.Streamer))
        {
            playing.Close();
        }

        LetGo(playing);
        playing = arriving;
        arriving = null;
        PutTaps();
        EndWatchWhereNobodyNeedsIt();
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

        playing?.TakeTroubles(troubles);
        return troubles.Count == 0 ? [] : [.. troubles];
    }
}
