using LiveStems.Engine.Comparing;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Monitor;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.Streaming;
using LiveStems.Files;

namespace LiveStems.Engine.Live;

/// <content>What takes longer than a picture of a window: starting, opening stems, compiling plans.</content>
public sealed partial class LivePlayer
{
    private readonly bool isAside;
    private Task? start;
    private bool hasNoticedStart;
    private MonitorSettings? monitorAtStart;
    private Task<PreparedSong>? preparation;
    private SongRequest? preparing;
    private LoadedSong? preparedFor;
    private string? asideFault;

    /// <summary>True while stems are opened or a plan is compiled on another thread.</summary>
    public bool IsPreparing => preparation is not null || !HasStarted;

    /// <summary>True once the device has been started, or could not be.</summary>
    public bool HasStarted => !isAside || start is { IsCompleted: true };

    /// <summary>True while another song is on its way: where to go in it is told to it when it is here.</summary>
    public bool IsOpening => (wanted ?? preparing) is { } coming && (arriving ?? playing)?.Request.IsSameSong(coming) != true;

    /// <summary>Starts a player that works aside; does nothing to one that has started.</summary>
    public void StartAside()
    {
        if (isAside)
        {
            start ??= Task.Factory.StartNew(Start, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
        }
    }

    private void Start()
    {
        CodeWarmUp.Run();
        float[] left = new float[options.MaximumFrames];
        float[] right = new float[options.MaximumFrames];
        for (int i = 0; i < PlanWarmUp.FewBlocks; i++)
        {
            renderer.Render(left, right);
        }

        // Taps get a call for nothing: they note and record what is heard.
        source.Render([], []);
        renderer.Monitor.Reset();
        renderer.Governor.Reset();
        SettleMemory();
        Device.Start(Watched(source));
        youngMemory.Begin();
    }

    // The first collections take long, for what they set up and for all that is there already: they come before the sound. What
    // survives one is a generation older, so as many as there are steps to the oldest.
    private static void SettleMemory()
    {
        for (int step = 0; step < GC.MaxGeneration; step++)
        {
            GC.Collect(GC.MaxGeneration, GCCollectionMode.Forced, blocking: true);
        }
    }

    // False until the device runs.
    private bool NoticeStart()
    {
        if (!HasStarted)
        {
            return false;
        }

        if (isAside && !hasNoticedStart)
        {
            hasNoticedStart = true;
            if (start!.Exception?.InnerException is AudioDeviceException fault)
            {
                asideFault = fault.Message;
            }

            if (monitorAtStart is { } settings)
            {
                renderer.Monitor.Post(settings);
            }
        }

        return true;
    }

    private void Prepare(SongRequest request)
    {
        LoadedSong? over = playing;
        SongSources? shared = over?.CanPlay(request) == true ? over.Plan.Sources : null;
        bool goesOn = over?.Request.IsSameSong(request) == true;
        if (!isAside)
        {
            PreparedSong prepared = OpenAll(request, shared, goesOn ? over!.Plan.Sources.Head.Position : 0, loop);
            Offer(prepared);
            return;
        }

        preparing = request;
        preparedFor = over;
        bool startsThen = goesOn || JumpFor(request) is not null;
        preparation = Task.Factory.StartNew(
            () => OpenAll(request, shared, startsThen ? null : 0, null), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
    }

    // Without a first frame the reading starts when the song is taken over, at the place that is heard then.
    private PreparedSong OpenAll(SongRequest request, SongSources? shared, long? startFrame, LoopRegion? startLoop)
    {
        SongSources sources = shared ?? SongSources.Open(request.Songs, request.Folder, options);
        try
        {
            SongPlan plan = SongCompiler.Compile(request.Songs, sources, catalogue, options);
            PlanWarmUp.Run(plan, options.MaximumFrames, isAlone: shared is null);
            StemStreamer? streamer = shared is null && startFrame is { } frame ? new StemStreamer(sources, Math.Min(frame, sources.Frames), startLoop) : null;
            return new PreparedSong(plan, streamer, request, shared is not null);
        }
        catch
        {
            if (shared is null)
            {
                sources.Dispose();
            }

            throw;
        }
    }

    private void TakePrepared()
    {
        if (preparation is not { IsCompleted: true } done || !renderer.Songs.IsReady)
        {
            return;
        }

        (preparation, preparing) = (null, null);
        if (done.IsFaulted)
        {
            TellFault(done.Exception!.InnerException!);
        }
        else if (ReferenceEquals(playing, preparedFor))
        {
            Offer(done.Result);
        }
        else
        {
            // Another song has begun meanwhile.
            jumpOnArrival = JumpFor(done.Result.Request) is null ? jumpOnArrival : null;
            done.Result.Close();
        }

        preparedFor = null;
    }

    private void TellFault(Exception fault)
    {
        if (fault is not (AudioFileException or IOException or UnauthorizedAccessException))
        {
            System.Runtime.ExceptionServices.ExceptionDispatchInfo.Throw(fault);
        }

        // What played goes on, in its loop, where it is.
        asideFault = fault.Message;
        loop = loopBefore;
        jumpOnArrival = wanted is null ? null : jumpOnArrival;
        if (Comparing.Chosen is not null && !Comparing.IsReady)
        {
            Comparing.Drop();
        }
    }

    private void Offer(PreparedSong prepared)
    {
        NoteHung(prepared.Plan);
        bool goesOn = playing?.Request.IsSameSong(prepared.Request) == true;
        arriving = prepared.Load(prepared.IsShared ? playing!.Streamer : prepared.Streamer
            ?? new StemStreamer(prepared.Plan.Sources, Math.Min(goesOn ? playing!.Plan.Sources.Head.Position : 0, prepared.Plan.Sources.Frames), loop));
        hasFollowed = false;
        arriving.ShouldPlay = playing?.ShouldPlay ?? playsOnArrival;
        SideMix? sides = arriving.Plan.Plan.InOutput is null ? null : Comparing.Bring(SampleRate, options.MaximumFrames);
        if (sides is null)
        {
            Comparing.Leave();
        }

        BeginWatch(arriving.Plan);
        renderer.Songs.Offer(Ready(arriving, sides));
        if (JumpFor(prepared.Request) is { } jump)
        {
            jumpOnArrival = null;
            JumpTo(jump.Seconds, jump.Loop);
        }
    }

    private Arrival? JumpFor(SongRequest request) => jumpOnArrival is { } jump && jump.Song.IsSameSong(request) ? jump : null;

    private void EndAside()
    {
        try
        {
            start?.Wait();
        }
        catch (AggregateException)
        {
            // It never came to play.
        }

        Task<PreparedSong>?[] unfinished = [preparation, openingFollowing];
        (preparation, openingFollowing) = (null, null);
        foreach (Task<PreparedSong> each in unfinished.OfType<Task<PreparedSong>>())
        {
            ((IAsyncResult)each).AsyncWaitHandle.WaitOne();
            CloseOpened(each);
        }
    }

    /// <summary>A song with its plan, not yet heard.</summary>
    private sealed record PreparedSong(SongPlan Plan, StemStreamer? Streamer, SongRequest Request, bool IsShared)
    {
        public LoadedSong Load(StemStreamer? streamer) => new(Plan, streamer ?? Streamer!, Request);

        public void Close()
        {
            Plan.Release();
            if (Streamer is not null)
            {
                Load(Streamer).Close();
            }
            else if (!IsShared)
            {
                Plan.Sources.Dispose();
            }
        }
    }
}
