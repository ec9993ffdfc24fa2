using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Offline;

/// <summary>Renders every stem of a song apart, aligned to each other, as it reaches the song bus.</summary>
public static class StemRenderer
{
    /// <summary>Renders from the start of the song to the end of its longest stem; all stems late by the same latency.</summary>
    /// <param name="song">The compiled song; afterwards it stands at its end.</param>
    /// <param name="sink">Takes the stems.</param>
    /// <param name="progress">Told now and then how far it has come; may be null.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    /// <exception cref="Files.AudioFileException">A stem breaks off or cannot be read any more.</exception>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public static void Render(SongPlan song, IStemSink sink, IProgress<RenderProgress>? progress, CancellationToken cancellation)
    {
        song.Plan.Reset();
        song.Sources.Head.OpenAtStart();
        foreach (Streaming.StemPump pump in song.Sources.Pumps)
        {
            pump.Start(RingStart.First);
        }

        int longest = PlanOptions.Offline.MaximumFrames;
        StereoBuffer sum = new(longest);
        BlockWalk walk = new(song, block => Deliver(song, block, sum, sink));
        long reported = 0;
        for (long done = 0; done < song.Sources.Frames; done += longest)
        {
            cancellation.ThrowIfCancellationRequested();
            walk.RunBlock((int)Math.Min(longest, song.Sources.Frames - done));
            if (done - reported >= song.Sources.SampleRate)
            {
                reported = done;
                progress?.Report(new RenderProgress(done, song.Sources.Frames));
            }
        }
    }

    private static void Deliver(SongPlan song, PlanBlock block, StereoBuffer sum, IStemSink sink)
    {
        Span<float> left = sum.Left.AsSpan(0, block.Frames);
        Span<float> right = sum.Right.AsSpan(0, block.Frames);
        for (int stem = 0; stem < song.Stems.Count; stem++)
        {
            left.Clear();
            right.Clear();
            Add(song.Stems[stem].Output, block, left, right);
            foreach (ParallelPath parallel in song.Stems[stem].Parallels)
            {
                Add(parallel.Output, block, left, right);
            }

            sink.Write(stem, left, right);
        }
    }

    private static void Add(BranchOutput? output, PlanBlock block, Span<float> left, Span<float> right)
    {
        if (output is null)
        {
            return;
        }

        StereoBuffer side = output.Side(block.Side);
        output.Gain.Add(side.Left.AsSpan(0, block.Frames), side.Right.AsSpan(0, block.Frames), left, right);
    }
}
