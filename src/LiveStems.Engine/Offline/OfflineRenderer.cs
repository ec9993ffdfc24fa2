using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Offline;

/// <summary>
/// Drives a plan as fast as it will go. The result is the same bits for every block length and number of threads, and
/// the same as the live driver plays.
/// </summary>
public static class OfflineRenderer
{
    /// <summary>Renders a song from its start, latency removed, to the end of its longest stem and of what rings on.</summary>
    /// <param name="song">The compiled song; afterwards it stands at its end.</param>
    /// <param name="sink">Takes the master.</param>
    /// <param name="options">Threads and block length.</param>
    /// <param name="progress">Told now and then how far it has come; may be null.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    /// <returns>Frames delivered.</returns>
    /// <exception cref="Files.AudioFileException">A stem breaks off or cannot be read any more.</exception>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public static long Render(
        SongPlan song,
        IRenderSink sink,
        RenderOptions options,
        IProgress<RenderProgress>? progress,
        CancellationToken cancellation)
    {
        song.Plan.Reset();
        foreach (Streaming.StemPump pump in song.Sources.Pumps)
        {
            pump.Start(RingStart.First);
        }

        TailTrimmer trimmer = new(sink, song.LatencyFrames, Math.Max(song.Sources.Frames, options.LeastFrames), song.Sources.SampleRate);
        long reported = 0;
        if (options.Threads > 1)
        {
            int threads = Math.Min(options.Threads, song.Plan.BranchCount + 2);
            new BlockPipeline(song, threads, options.BlockFrames, trimmer).Run(Report, cancellation);
        }
        else
        {
            BlockWalk walk = new(song, block => Deliver(song.Plan, block, trimmer));
            while (!trimmer.IsFinished)
            {
                cancellation.ThrowIfCancellationRequested();
                walk.RunBlock(options.BlockFrames);
                Report(trimmer.DeliveredFrames);
            }
        }

        progress?.Report(new RenderProgress(song.Sources.Frames, song.Sources.Frames));
        return trimmer.DeliveredFrames;

        void Report(long delivered)
        {
            if (delivered - reported >= song.Sources.SampleRate)
            {
                reported = delivered;
                progress?.Report(new RenderProgress(Math.Min(reported, song.Sources.Frames), song.Sources.Frames));
            }
        }
    }

    private static void Deliver(Plan plan, PlanBlock block, TailTrimmer trimmer)
    {
        plan.RunTail(block);
        trimmer.Write(plan.Output.Left.AsSpan(0, block.Frames), plan.Output.Right.AsSpan(0, block.Frames));
    }
}
