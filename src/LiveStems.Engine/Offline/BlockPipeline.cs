using System.Runtime.ExceptionServices;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Offline;

/// <summary>
/// Shares a render among threads. Several blocks are under way: while the sink takes one, the song bus is at a later one
/// and the stems at later ones still, so that a thread hardly ever waits for another. Every stage takes the blocks in
/// order, so the result is the same bits as on one thread.
/// </summary>
internal sealed class BlockPipeline
{
    // Half a vector's worth where one channel speaks for both, but small enough to share out.
    private const int LargestGroup = 4;
    private const int MastersInFlight = 4;

    // About as long as the shortest stage takes: putting a thread to sleep and waking it costs more.
    private const int LooksBeforeSleep = 200;

    private readonly SongPlan song;
    private readonly TailTrimmer trimmer;
    private readonly int blockFrames;
    private readonly StereoBuffer[] masters;
    private readonly PipelineStage[] stages;
    private readonly PipelineStage sink;
    private readonly object gate = new();
    private readonly int helperCount;
    private long delivered;
    private int changes;
    private bool isOver;
    private ExceptionDispatchInfo? failure;

    /// <param name="song">What is rendered.</param>
    /// <param name="threads">Threads that take part, the caller's included.</param>
    /// <param name="blockFrames">Frames at a time.</param>
    /// <param name="trimmer">Takes the master.</param>
    public BlockPipeline(SongPlan song, int threads, int blockFrames, TailTrimmer trimmer)
    {
        this.song = song;
        this.trimmer = trimmer;
        this.blockFrames = blockFrames;
        helperCount = threads - 1;
        masters = [.. Enumerable.Range(0, MastersInFlight).Select(_ => new StereoBuffer(blockFrames))];
        PipelineStage bus = new(RunBus);
        sink = new PipelineStage(Deliver).After(bus);
        bus.AtMostAhead(sink, MastersInFlight);
        PipelineStage[] groups = [.. BranchGroup.ShareOut(song.Plan, LargestGroup).Select(group => new PipelineStage(number => group.ReadAndRun(song, Block(number))))];
        foreach (PipelineStage group in groups)
        {
            group.AtMostAhead(bus, song.Plan.BlocksInFlight);
            bus.After(group);
        }

        // The end first: that keeps few blocks under way.
        stages = [sink, bus, .. groups];
        if (song.Plan.HasHead)
        {
            // The stems that others listen to are there once only, and the song bus may listen too.
            PipelineStage head = new PipelineStage(RunHead).AtMostAhead(bus, 1);
            foreach (PipelineStage group in groups)
            {
                group.After(head);
            }

            stages = [.. stages, head];
        }
    }

    /// <summary>Runs blocks until the master is complete.</summary>
    /// <param name="report">Told now and then how many frames were delivered.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    public void Run(Action<long> report, CancellationToken cancellation)
    {
        Thread[] helpers = [.. Enumerable.Range(2, helperCount).Select(number => new Thread(() => Work(null, default)) { IsBackground = true, Name = $"render {number}" })];
        Array.ForEach(helpers, helper => helper.Start());
        Work(report, cancellation);
        Array.ForEach(helpers, helper => helper.Join());
        failure?.Throw();
    }

    private void Work(Action<long>? report, CancellationToken cancellation)
    {
        PipelineStage? stage = null;
        try
        {
            while ((stage = Exchange(stage)) is not null)
            {
                cancellation.ThrowIfCancellationRequested();
                report?.Invoke(Volatile.Read(ref delivered));
                stage.Run();
            }
        }
        catch (Exception exception)
        {
            lock (gate)
            {
                failure ??= ExceptionDispatchInfo.Capture(exception);
                End();
            }
        }
    }

    /// <summary>Hands a finished stage back and takes one that is ready, waiting for it; null when all is over.</summary>
    private PipelineStage? Exchange(PipelineStage? finished)
    {
        while (true)
        {
            int seen;
            lock (gate)
            {
                if (finished is not null)
                {
                    Finish(finished);
                    finished = null;
                }

                if (isOver)
                {
                    return null;
                }

                if (Array.Find(stages, stage => stage.IsReady) is { } ready)
                {
                    ready.Take();
                    return ready;
                }

                seen = changes;
            }

            WaitForChange(seen);
        }
    }

    private void Finish(PipelineStage stage)
    {
        stage.Finish();
        Volatile.Write(ref changes, changes + 1);
        if (stage == sink && trimmer.IsFinished)
        {
            End();
        }

        System.Threading.Monitor.PulseAll(gate);
    }

    private void End()
    {
        isOver = true;
        Volatile.Write(ref changes, changes + 1);
        System.Threading.Monitor.PulseAll(gate);
    }

    private void WaitForChange(int seen)
    {
        for (int look = 0; look < LooksBeforeSleep; look++)
        {
            if (Volatile.Read(ref changes) != seen)
            {
                return;
            }

            Thread.SpinWait(20);
        }

        lock (gate)
        {
            while (changes == seen)
            {
                System.Threading.Monitor.Wait(gate);
            }
        }
    }

    private PlanBlock Block(long number) => new(blockFrames, (int)(number % song.Plan.BlocksInFlight));

    private void RunHead(long number)
    {
        song.ReadForHead(blockFrames);
        song.Plan.RunHead(Block(number));
    }

    private void RunBus(long number)
    {
        song.Plan.RunTail(Block(number));
        StereoBuffer master = masters[number % MastersInFlight];
        song.Plan.Output.Left.AsSpan(0, blockFrames).CopyTo(master.Left);
        song.Plan.Output.Right.AsSpan(0, blockFrames).CopyTo(master.Right);
    }

    private void Deliver(long number)
    {
        StereoBuffer master = masters[number % MastersInFlight];
        trimmer.Write(master.Left, master.Right);
        Volatile.Write(ref delivered, trimmer.DeliveredFrames);
    }
}
