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
    private const double LongestTailSeconds = 5;

    private ProcessorCatalogue catalogue;
    private readonly PlanOptions options;
    private readonly LiveRenderer renderer;
    private readonly float[] warmLeft;
    private readonly float[] warmRight;
    private LoadedSong? playing;
    private LoadedSong? arriving;
    private SongRequest? wanted;
    private LoopRegion? loop;
    private string? dropped;

    /// <summary>Starts a device; songs run at its rate.</summary>
    /// <param name="device">Where the sound goes; it stays the caller's to dispose of.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="tap">Put between the player and the device, for instance to record; may be null.</param>
    /// <exception cref="AudioDeviceException">The device cannot start.</exception>
    public LivePlayer(IAudioDevice device, ProcessorCatalogue catalogue, Func<IAudioRenderer, IAudioRenderer>? tap = null)
        : this(device, catalogue, tap, TimeProvider.System, AudioFile.Open)
    {
    }

    internal LivePlayer(
        IAudioDevice device,
        ProcessorCatalogue catalogue,
        Func<IAudioRenderer, IAudioRenderer>? tap,
        TimeProvider clock,
        Func<string, IAudioReader> openFile)
    {
        Device = device;
        SampleRate = device.SampleRate;
        this.catalogue = catalogue;
        int maximumFrames = Math.Clamp(device.BufferFrames, ShortestBlock, LongestBlock);
        warmLeft = new float[maximumFrames];
        warmRight = new float[maximumFrames];
        options = new PlanOptions(maximumFrames, (int)(LookAheadSeconds * SampleRate), SampleRate) { IsLive = true, Clock = clock, OpenFile = openFile, Guard = catalogue.HasOutside ? new OutsideGuard(TimeProvider.System) : null };
        Comparing = new LiveComparison(Compare);
        renderer = new LiveRenderer(SampleRate, maximumFrames, NewSwitch(), clock);
        IAudioRenderer source = tap is null ? renderer : tap(renderer);
        CodeWarmUp.Run();
        WarmUp(renderer.Render);
        renderer.Monitor.Reset();
        renderer.Governor.Reset();
        device.Start(Watched(source));
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

    /// <summary>What the listener should know about the song.</summary>
    public IReadOnlyList<string> Remarks => (arriving ?? playing)?.Plan.Remarks ?? [];

    /// <summary>Sets the monitor.</summary>
    public void SetMonitor(MonitorSettings settings) => renderer.Monitor.Post(settings);

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
        if ((arriving ?? playing) is not { } loaded)
        {
            return;
        }

        long frame = Math.Clamp((long)(seconds * SampleRate), 0, loaded.Plan.Sources.Frames);
        LoopRegion? region = null;
        if (loop is { } wantedLoop)
        {
            long start = Math.Clamp((long)(wantedLoop.Start * SampleRate), 0, loaded.Plan.Sources.Frames);
            long shortest = 4L * PlanTiming.RampFrames(SampleRate);
            region = new LoopRegion(start, Math.Max(start + shortest, (long)(wantedLoop.End * SampleRate)));
            frame = Math.Min(frame, region.EndFrame - 1);
        }

        this.loop = region;
        loaded.Streamer.JumpTo(frame, region);
    }

    /// <summary>
    /// Lets go of what no longer plays, brings in what waits, and tells what went wrong since the last call.
    /// </summary>
    public IReadOnlyList<string> Update()
    {
        GoOn();
        return [.. Troubles()];
    }

    private SongSwitch NewSwitch() =>
        new(options.MaximumFrames, PlanTiming.RampFrames(SampleRate), (int)(SettleSeconds * SampleRate), (int)(LongestTailSeconds * SampleRate));

    private void GoOn()
    {
        NoticeLost();
        NoticeFollowing();
        FinishArrival();
        if (wanted is { } next && renderer.Songs.IsReady)
        {
            wanted = null;
            Bring(next);
        }

        Comparing.Update(loop is null ? null : (double)loop.Frames / SampleRate);
        PrepareFollowing();
    }

    /// <summary>What to show now; peaks start afresh.</summary>
    public PlayerState Look()
    {
        LoadedSong? loaded = arriving ?? playing;
        (float left, float right) = renderer.Meters.TakePeaks();
        double heard = loaded is null ? 0 : (double)Math.Max(0, loaded.Plan.Sources.Head.Position - loaded.Plan.LatencyFrames) / SampleRate;
        return new PlayerState(
            Song?.Title,
            loaded?.ShouldPlay ?? false,
            heard,
            loaded is null ? 0 : (double)loaded.Plan.Sources.Frames / SampleRate,
            renderer.Meters.MomentaryLufs,
            renderer.Meters.ShortTermLufs,
            Decibels.FromAmplitude(left),
            Decibels.FromAmplitude(right),
            loaded?.Plan.Sources.Pumps.Sum(pump => pump.Feed.MissedFrames) ?? 0,
            Device.Statistics)
        {
            LoadLevel = renderer.Governor.Level,
            LoadDrops = (renderer.Governor.Entries(LoadLevel.WithoutMeters), renderer.Governor.Entries(LoadLevel.WithoutViews), renderer.Governor.Entries(LoadLevel.Faded)),
            LateStems = [.. loaded?.LateStems ?? []],
            HasFollowing = wantedFollowing is not null,
        };
    }

    /// <summary>Stops the device and closes everything.</summary>
    public void Dispose()
    {
        Device.Stop();
        watched?.Dispose();
        foreach (LoadedSong loaded in new[] { playing, arriving, following }.OfType<LoadedSong>().DistinctBy(loaded => loaded.Streamer))
        {
            loaded.Close();
        }

        playing = arriving = following = null;
    }

    private void SetPlaying(bool isPlaying)
    {
        foreach (LoadedSong loaded in new[] { playing, arriving, following }.OfType<LoadedSong>())
        {
            loaded.ShouldPlay = isPlaying;
        }
    }

    private SongRequest? Latest => wanted ?? arriving?.Request ?? playing?.Request;

    private void Compare(Comparison? comparison)
    {
        if (Latest is { } latest)
        {
            Show(SongRequest.For(latest.Song, latest.Folder, comparison));
        }
    }

    private void Show(SongRequest request)
    {
        if (!mustCompile && arriving is null && wanted is null && playing is not null && TryPost(playing, request))
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
        if (playing is not null && playing.CanPlay(request))
        {
            SongPlan plan = SongCompiler.Compile(request.Songs, playing.Plan.Sources, catalogue, options);
            arriving = new LoadedSong(plan, playing.Streamer, request);
        }
        else
        {
            if (!DropFollowing())
            {
                wanted = request;
                return;
            }

            bool goesOn = playing is not null && playing.Request.IsSameSong(request);
            loop = goesOn ? loop : null;
            arriving = Open(request, goesOn ? playing!.Plan.Sources.Head.Position : 0, loop);
            arriving.ShouldPlay = playing?.ShouldPlay ?? false;
        }

        SideMix? sides = arriving.Plan.Plan.InOutput is null ? null : Comparing.Bring(SampleRate, options.MaximumFrames);
        if (sides is null)
        {
            Comparing.Leave();
        }

        Offer(arriving, Ready(arriving, sides));
    }

    private LoadedSong Open(SongRequest request, long startFrame, LoopRegion? startLoop)
    {
        SongSources sources = SongSources.Open(request.Songs, request.Folder, options);
        try
        {
            SongPlan plan = SongCompiler.Compile(request.Songs, sources, catalogue, options);
            return new LoadedSong(plan, new StemStreamer(sources, Math.Min(startFrame, sources.Frames), startLoop), request);
        }
        catch
        {
            sources.Dispose();
            throw;
        }
    }

    private PlayingSong Ready(LoadedSong loaded, SideMix? sides)
    {
        WarmUp((left, _) => loaded.Plan.Plan.Run(left.Length));
        loaded.Plan.Plan.Reset();
        SongSources sources = loaded.Plan.Sources;
        return new PlayingSong(loaded.Plan.Plan, sources.Head, [.. sources.Pumps.Select(pump => pump.Feed)], sources.Frames, sides);
    }

    // Everything the audio thread will run is compiled by the runtime here and not there.
    private void WarmUp(Action<Span<float>, Span<float>> run)
    {
        for (int i = 0; i < WarmUpBlocks; i++)
        {
            run(warmLeft, warmRight);
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

        playing = arriving;
        arriving = null;
        PutTaps();
    }

    private IEnumerable<string> Troubles()
    {
        if (Interlocked.Exchange(ref dropped, null) is { } reason)
        {
            yield return reason;
        }

        if (Interlocked.Exchange(ref followingFault, null) is { } fault)
        {
            yield return $"the next song cannot be played: {fault.Message}";
        }

        foreach (string trouble in playing?.TakeTroubles() ?? [])
        {
            yield return trouble;
        }
    }
}
