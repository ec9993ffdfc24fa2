using System.Runtime.ExceptionServices;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Offline;

/// <summary>
/// Shares the work of each block among threads. While one thread runs the song bus of a block, the others are already
/// at the stems of the next. With one thread it simply walks the plan.
/// </summary>
internal sealed class BlockWorkers : IDisposable
{
    // Eight channels share a vector: four stems in stereo, or eight where one channel speaks for both.
    private const int LargestGroup = 8;
    private const int SharedGroup = 4;

    private readonly SongPlan song;
    private readonly Action<PlanBlock> deliver;
    private readonly BranchGroup[] groups;
    private readonly Barrier? barrier;
    private readonly Thread[] helpers;
    private PlanBlock block;
    private PlanBlock? waiting;
    private int nextTask;
    private bool isStopping;
    private ExceptionDispatchInfo? failure;

    /// <param name="song">What is rendered.</param>
    /// <param name="threads">Threads that take part, the caller's included.</param>
    /// <param name="deliver">Runs the tail of the plan for a block and passes the result on.</param>
    public BlockWorkers(SongPlan song, int threads, Action<PlanBlock> deliver)
    {
        this.song = song;
        this.deliver = deliver;
        groups = BranchGroup.ShareOut(song.Plan, threads > 1 ? SharedGroup : LargestGroup);
        helpers = new Thread[threads - 1];
        if (threads > 1)
        {
            barrier = new Barrier(threads);
            for (int i = 0; i < helpers.Length; i++)
            {
                helpers[i] = new Thread(Help) { IsBackground = true, Name = $"render {i + 2}" };
                helpers[i].Start();
            }
        }
    }

    /// <summary>Runs the stems of the next block, and the song bus of the one before it (of this one with one thread).</summary>
    public void RunBlock(int frames)
    {
        block = new PlanBlock(frames, barrier is null ? 0 : 1 - block.Side);
        RunHead();
        if (barrier is null)
        {
            foreach (BranchGroup group in groups)
            {
                RunGroup(group);
            }

            deliver(block);
            return;
        }

        nextTask = -1;
        barrier.SignalAndWait();
        TakeTasks();
        barrier.SignalAndWait();
        waiting = block;
        failure?.Throw();
    }

    /// <summary>Ends the threads.</summary>
    public void Dispose()
    {
        if (barrier is null)
        {
            return;
        }

        isStopping = true;
        barrier.SignalAndWait();
        foreach (Thread helper in helpers)
        {
            helper.Join();
        }

        barrier.Dispose();
    }

    private void RunHead()
    {
        if (!song.Plan.HasHead)
        {
            return;
        }

        for (int stem = 0; stem < song.Sources.Pumps.Count; stem++)
        {
            Read(stem);
        }

        song.Plan.RunHead(block);
    }

    private void RunGroup(BranchGroup group)
    {
        if (!song.Plan.HasHead)
        {
            foreach (int branch in group.Branches)
            {
                Read(branch);
            }
        }

        group.Run(block);
    }

    private void Read(int stem) => song.Sources.Pumps[stem].ReadForPlan(block.Frames);

    private void Help()
    {
        while (true)
        {
            barrier!.SignalAndWait();
            if (isStopping)
            {
                return;
            }

            TakeTasks();
            barrier.SignalAndWait();
        }
    }

    private void TakeTasks()
    {
        try
        {
            // The song bus is the longest task, so it is the first to be taken.
            int task;
            while ((task = Interlocked.Increment(ref nextTask)) <= groups.Length)
            {
                if (task > 0)
                {
                    RunGroup(groups[task - 1]);
                }
                else if (waiting is { } previous)
                {
                    deliver(previous);
                }
            }
        }
        catch (Exception exception)
        {
            failure ??= ExceptionDispatchInfo.Capture(exception);
        }
    }
}
