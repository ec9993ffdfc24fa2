using System.Runtime.ExceptionServices;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;

namespace LiveStems.Engine.Offline;

/// <summary>
/// Shares a render among threads. Several blocks are under way: while the sink takes one, the song bus is at a later one
/// and the stems at later ones still, so that a thread hardly ever waits for another. Every stage takes the blocks in
/// order, so the result is the same bits as on one thread.
/// </summary>
/// <remarks>
/// Every stage has a thread whose cache holds its memory, and which takes it rather than others; another one takes it only
/// when it has nothing else to do. What would change over from core to core most, the stems' sound on its way to the sum,
/// is summed where it is made as far as the order of the sum allows.
/// </remarks>
internal sealed class BlockPipeline
{
    // What fills a vector where one channel speaks for both, and where both have their own.
    private const int LargestGroup = 8;
    private const int SmallestGroup = 4;

    // The song bus and the sink take about as long as so many stems.
    private const int BusAsStems = 5;

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
    private readonly BranchGroup? ahead;
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
        int busHome = helperCount;
        PipelineStage bus = new(RunBus, busHome);
        sink = new PipelineStage(Deliver, busHome).After(bus);
        bus.AtMostAhead(sink, MastersInFlight);
        BranchGroup[] branchGroups = BranchGroup.ShareOut(song.Plan, GroupSize(song.Plan.BranchCount, threads));
        int[] loads = new int[threads];
        loads[busHome] = BusAsStems;
        PipelineStage[] groups = [.. branchGroups.Select(group => new PipelineStage(number => RunGroup(group, Block(number)), Home(group, loads)))];
        ahead = SumAhead(branchGroups[0]);
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
            PipelineStage head = new PipelineStage(RunHead, busHome).AtMostAhead(bus, 1);
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
        Thread[] helpers = [.. Enumerable.Range(2, helperCount).Select(number => new Thread(() => Work(number - 1, null, default)) { IsBackground = true, Name = $"render {number}" })];
        Array.ForEach(helpers, helper => helper.Start());
        Work(0, report, cancellation);
        Array.ForEach(helpers, helper => helper.Join());
        song.Plan.Mix?.SumAhead(0, []);
        failure?.Throw();

        // The helpers may have done a short song without a turn of this thread.
        cancellation.ThrowIfCancellationRequested();
    }

    private void Work(int thread, Action<long>? report, CancellationToken cancellation)
    {
        PipelineStage? stage = null;
        try
        {
            while ((stage = Exchange(thread, stage)) is not null)
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
    private PipelineStage? Exchange(int thread, PipelineStage? finished)
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

                if (Ready(thread) is { } ready)
                {
                    ready.Take();
                    return ready;
                }

                seen = changes;
            }

            WaitForChange(seen);
        }
    }

    private PipelineStage? Ready(int thread)
    {
        PipelineStage? elsewhere = null;
        foreach (PipelineStage stage in stages)
        {
            if (stage.IsReady)
            {
                if (stage.Home == thread)
                {
                    return stage;
                }

                elsewhere ??= stage;
            }
        }

        return elsewhere;
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

    // At least a group for each thread, of a size that fills vectors.
    private static int GroupSize(int branches, int threads)
    {
        int even = (branches + threads - 1) / threads;
        return Math.Clamp((even + SmallestGroup - 1) / SmallestGroup * SmallestGroup, SmallestGroup, LargestGroup);
    }

    private static int Home(BranchGroup group, int[] loads)
    {
        int home = Array.IndexOf(loads, loads.Min());
        loads[home] += group.Branches.Count;
        return home;
    }

    // The sum begins with the paths of the first group, as far as nothing else comes between.
    private BranchGroup? SumAhead(BranchGroup first)
    {
        HashSet<BranchOutput> made = [.. first.Branches.SelectMany(song.Plan.Branch).OfType<BranchOutputStep>().Select(step => step.Output)];
        int count = song.Plan.Mix?.Inputs.TakeWhile(made.Contains).Count() ?? 0;
        if (count == 0)
        {
            return null;
        }

        song.Plan.Mix!.SumAhead(count, [.. Enumerable.Range(0, song.Plan.BlocksInFlight).Select(_ => new StereoBuffer(blockFrames))]);
        return first;
    }

    private void RunGroup(BranchGroup group, PlanBlock block)
    {
        group.ReadAndRun(song, block);
        if (group == ahead)
        {
            song.Plan.Mix!.RunAhead(block);
        }
    }

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
