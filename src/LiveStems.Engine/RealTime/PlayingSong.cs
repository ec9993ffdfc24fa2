namespace LiveStems.Engine.RealTime;

/// <summary>A plan and the stems it plays, as the audio thread holds them.</summary>
/// <param name="plan">The plan.</param>
/// <param name="head">Where the song plays.</param>
/// <param name="feeds">Its stems.</param>
/// <param name="endFrame">Frames from the start of the song to the end of its longest stem.</param>
/// <param name="sides">Which side of a comparison is heard; null when nothing is compared.</param>
internal sealed class PlayingSong(Plan plan, PlayHead head, StemFeed[] feeds, long endFrame, SideMix? sides = null)
{
    public Plan Plan { get; } = plan;

    public PlayHead Head { get; } = head;

    /// <summary>Position of the head at which the last frame of the longest stem has left the plan.</summary>
    public long HeardEnd { get; } = endFrame + plan.LatencyFrames;

    /// <summary>True when both play the same open stems: then these are taken once a block for both.</summary>
    public bool SharesStemsWith(PlayingSong other) => ReferenceEquals(Head, other.Head);

    /// <summary>Takes the stems of a block.</summary>
    public void TakeStems(int frames)
    {
        BlockWindow window = Head.BeginBlock(frames);
        foreach (StemFeed feed in feeds)
        {
            feed.Take(window, frames);
        }

        Head.EndBlock(window);
    }

    /// <summary>Runs the plan over the stems taken, and gives what is heard of it.</summary>
    public StereoBuffer Run(int frames)
    {
        Plan.Run(frames);
        return sides is null || Plan.InOutput is null ? Plan.Output : sides.Run(Plan.InOutput, Plan.Output, frames);
    }
}
