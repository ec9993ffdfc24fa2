using LiveStems.Albums.Model;
using LiveStems.Dsp;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Monitor;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.Streaming;
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

    private readonly ProcessorCatalogue catalogue;
    private readonly PlanOptions options;
    private readonly LiveRenderer renderer;
    private readonly float[] warmLeft;
    private readonly float[] warmRight;
    private Loaded? playing;
    private Loaded? arriving;
    private SongRequest? wanted;
    private LoopRegion? loop;
    private string? dropped;

    /// <summary>Starts a device; songs run at its rate.</summary>
    /// <param name="device">Where the sound goes; it stays the caller's to dispose of.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="tap">Put between the player and the device, for instance to record; may be null.</param>
    /// <exception cref="AudioDeviceException">The device cannot start.</exception>
    public LivePlayer(IAudioDevice device, ProcessorCatalogue catalogue, Func<IAudioRenderer, IAudioRenderer>? tap = null)
    {
        Device = device;
        SampleRate = device.SampleRate;
        this.catalogue = catalogue;
        int maximumFrames = Math.Clamp(device.BufferFrames, ShortestBlock, LongestBlock);
        warmLeft = new float[maximumFrames];
        warmRight = new float[maximumFrames];
        options = new PlanOptions(maximumFrames, (int)(LookAheadSeconds * SampleRate), SampleRate) { IsLive = true };
        Comparing = new LiveComparison(Compare);
        int fade = PlanTiming.RampFrames(SampleRate);
        renderer = new LiveRenderer(SampleRate, maximumFrames, new SongSwitch(maximumFrames, fade, (int)(SettleSeconds * SampleRate)));
        IAudioRenderer source = tap is null ? renderer : tap(renderer);
        CodeWarmUp.Run();
        WarmUp(renderer.Render);
        renderer.Monitor.Reset();
        device.Start(source);
    }

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
    /// <exception cref="Files.AudioFileException">A stem cannot be opened; what played goes on.</exception>
    public void Show(Song song, string albumFolder)
    {
        SongRequest request;
        try
        {
            request = SongRequest.For(song, albumFolder, Comparing.Chosen);
        }
        catch (ComparisonException exception)
        {
            dropped = $"the comparison has ended: {exception.Message}";
            Comparing.Drop();
            request = SongRequest.For(song, albumFolder, null);
        }

        Show(request);
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

    private void GoOn()
    {
        if (renderer.Songs.TakeRetired() is not null || (arriving is not null && playing is null))
        {
            FinishArrival();
        }

        if (wanted is { } next && renderer.Songs.IsReady)
        {
            wanted = null;
            Bring(next);
        }

        Comparing.Update(loop is null ? null : (double)loop.Frames / SampleRate);
    }

    /// <summary>What to show now; peaks start afresh.</summary>
    public PlayerState Look()
    {
        Loaded? loaded = arriving ?? playing;
        (float left, float right) = renderer.Meters.TakePeaks();
        double heard = loaded is null ? 0 : (double)Math.Max(0, loaded.Plan.Sources.Head.Position - loaded.Plan.LatencyFrames) / SampleRate;
        return new PlayerState(
            Song?.Title,
            loaded?.Plan.Sources.Head.ShouldPlay ?? false,
            heard,
            loaded is null ? 0 : (double)loaded.Plan.Sources.Frames / SampleRate,
            renderer.Meters.MomentaryLufs,
            renderer.Meters.ShortTermLufs,
            Decibels.FromAmplitude(left),
            Decibels.FromAmplitude(right),
            loaded?.Plan.Sources.Pumps.Sum(pump => (long)pump.Feed.MissedFrames) ?? 0,
            Device.Statistics);
    }

    /// <summary>Stops the device and closes everything.</summary>
    public void Dispose()
    {
        Device.Stop();
        foreach (Loaded loaded in new[] { playing, ReferenceEquals(playing?.Streamer, arriving?.Streamer) ? null : arriving }.OfType<Loaded>())
        {
            Close(loaded);
        }
    }

    private void SetPlaying(bool isPlaying)
    {
        foreach (Loaded loaded in new[] { playing, arriving }.OfType<Loaded>())
        {
            loaded.Plan.Sources.Head.ShouldPlay = isPlaying;
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
        if (arriving is null && wanted is null && playing is not null && TryPost(playing, request))
        {
            return;
        }

        wanted = request;
        GoOn();
    }

    private static bool TryPost(Loaded loaded, SongRequest request)
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
        if (playing is not null && TryPost(playing, request))
        {
            return;
        }

        SongPlan plan;
        StemStreamer streamer;
        if (playing is not null && playing.CanPlay(request))
        {
            plan = SongCompiler.Compile(request.Songs, playing.Plan.Sources, catalogue, options);
            streamer = playing.Streamer;
        }
        else
        {
            SongSources sources = SongSources.Open(request.Songs, request.Folder, options);
            plan = SongCompiler.Compile(request.Songs, sources, catalogue, options);
            bool goesOn = playing is not null && playing.Request.IsSameSong(request);
            loop = goesOn ? loop : null;
            sources.Head.ShouldPlay = playing?.Plan.Sources.Head.ShouldPlay ?? false;
            streamer = new StemStreamer(sources, goesOn ? Math.Min(playing!.Plan.Sources.Head.Position, sources.Frames) : 0, loop);
        }

        arriving = new Loaded(plan, streamer, request);
        WarmUp((left, _) => plan.Plan.Run(left.Length));
        plan.Plan.Reset();
        SideMix? sides = plan.Plan.InOutput is null ? null : Comparing.Bring(SampleRate, options.MaximumFrames);
        if (sides is null)
        {
            Comparing.Leave();
        }

        renderer.Songs.Offer(new PlayingSong(plan.Plan, plan.Sources.Head, [.. plan.Sources.Pumps.Select(pump => pump.Feed)], sides));
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
        if (playing is not null && arriving is not null && !ReferenceEquals(playing.Streamer, arriving.Streamer))
        {
            Close(playing);
        }

        playing = arriving ?? playing;
        arriving = null;
        PutTaps();
    }

    private IEnumerable<string> Troubles()
    {
        if (dropped is { } reason)
        {
            dropped = null;
            yield return reason;
        }

        if (playing is null)
        {
            yield break;
        }

        if (playing.Streamer.TakeFailure() is { } failure)
        {
            yield return failure.Message;
        }

        foreach ((string place, PlannedSlot slot) in playing.Slots())
        {
            if (slot.Step is { HasFailed: true } && playing.Told.Add(slot))
            {
                yield return $"{place}: {slot.Slot.Id} failed and is passed by";
            }
        }
    }

    private static void Close(Loaded loaded)
    {
        loaded.Streamer.Dispose();
        loaded.Plan.Sources.Dispose();
    }

    private sealed class Loaded(SongPlan plan, StemStreamer streamer, SongRequest request)
    {
        public SongPlan Plan { get; } = plan;

        public StemStreamer Streamer { get; } = streamer;

        public SongRequest Request { get; set; } = request;

        public HashSet<PlannedSlot> Told { get; } = [];

        /// <summary>True when the open stems are those that the request needs.</summary>
        public bool CanPlay(SongRequest wanted) =>
            Request.Folder == wanted.Folder
            && PlanUpdate.HasSameSources(Plan.Song, wanted.Song)
            && Plan.Sources.HoldBeside(wanted.Songs);

        public IEnumerable<(string Place, PlannedSlot Slot)> Slots() => SlotsOf(Plan.Side).Concat(Plan.InSide is null ? [] : SlotsOf(Plan.InSide)).Distinct();

        private static IEnumerable<(string Place, PlannedSlot Slot)> SlotsOf(SongSide side) =>
            side.Stems
                .SelectMany(stem => stem.Slots.Select(slot => (stem.Stem.Name, slot))
                    .Concat(stem.Parallels.SelectMany(parallel => parallel.Slots.Select(slot => ($"{stem.Stem.Name}, {parallel.Parallel.Name}", slot)))))
                .Concat(side.BusSlots.Select(slot => ("song bus", slot)));
    }
}
