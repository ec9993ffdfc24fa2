using LiveStems.Albums.Model;
using LiveStems.Dsp;
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
    private (Song Song, string Folder)? wanted;

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
    public Song? Song => wanted?.Song ?? arriving?.Plan.Song ?? playing?.Current;

    /// <summary>What the listener should know about the song.</summary>
    public IReadOnlyList<string> Remarks => (arriving ?? playing)?.Plan.Remarks ?? [];

    /// <summary>Sets the monitor.</summary>
    public void SetMonitor(MonitorSettings settings) => renderer.Monitor.Post(settings);

    /// <summary>
    /// Plays a song, or the same song changed: values glide, chains are cross-faded, other stems are opened. Of several
    /// changes in quick succession the last one counts.
    /// </summary>
    /// <exception cref="Files.AudioFileException">A stem cannot be opened; what played goes on.</exception>
    public void Show(Song song, string albumFolder)
    {
        Loaded? now = arriving is null && wanted is null ? playing : null;
        if (now is not null && now.Folder == albumFolder && PlanUpdate.HasSameSources(now.Plan.Song, song) && PlanUpdate.TryPost(now.Plan, song))
        {
            now.Current = song;
            return;
        }

        wanted = (song, albumFolder);
        Update();
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

        loaded.Streamer.JumpTo(frame, region);
    }

    /// <summary>
    /// Lets go of what no longer plays, brings in what waits, and tells what went wrong since the last call.
    /// </summary>
    public IReadOnlyList<string> Update()
    {
        if (renderer.Songs.TakeRetired() is not null || (arriving is not null && playing is null))
        {
            FinishArrival();
        }

        if (wanted is { } next && renderer.Songs.IsReady)
        {
            wanted = null;
            Bring(next.Song, next.Folder);
        }

        return [.. Troubles()];
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

    private void Bring(Song song, string folder)
    {
        if (playing is not null && playing.Folder == folder && PlanUpdate.HasSameSources(playing.Plan.Song, song))
        {
            if (PlanUpdate.TryPost(playing.Plan, song))
            {
                playing.Current = song;
                return;
            }

            SongPlan plan = SongCompiler.Compile(song, playing.Plan.Sources, catalogue, options);
            arriving = new Loaded(plan, playing.Streamer, folder);
        }
        else
        {
            SongSources sources = SongSources.Open(song, folder, options);
            SongPlan plan = SongCompiler.Compile(song, sources, catalogue, options);
            sources.Head.ShouldPlay = playing?.Plan.Sources.Head.ShouldPlay ?? false;
            arriving = new Loaded(plan, new StemStreamer(sources, 0), folder);
        }

        WarmUp((left, _) => arriving.Plan.Plan.Run(left.Length));
        arriving.Plan.Plan.Reset();
        renderer.Songs.Offer(new PlayingSong(arriving.Plan.Plan, arriving.Plan.Sources.Head, [.. arriving.Plan.Sources.Pumps.Select(pump => pump.Feed)]));
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

    private sealed class Loaded(SongPlan plan, StemStreamer streamer, string folder)
    {
        public SongPlan Plan { get; } = plan;

        public StemStreamer Streamer { get; } = streamer;

        public string Folder { get; } = folder;

        public Song Current { get; set; } = plan.Song;

        public HashSet<PlannedSlot> Told { get; } = [];

        public IEnumerable<(string Place, PlannedSlot Slot)> Slots() =>
            Plan.Stems
                .SelectMany(stem => stem.Slots.Select(slot => (stem.Stem.Name, slot))
                    .Concat(stem.Parallels.SelectMany(parallel => parallel.Slots.Select(slot => ($"{stem.Stem.Name}, {parallel.Parallel.Name}", slot)))))
                .Concat(Plan.BusSlots.Select(slot => ("song bus", slot)));
    }
}
