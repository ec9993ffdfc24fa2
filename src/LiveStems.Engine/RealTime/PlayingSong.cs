namespace LiveStems.Engine.RealTime;

/// <summary>A plan and the stems it plays, as the audio thread holds them.</summary>
/// <param name="plan">The plan.</param>
/// <param name="head">Where the song plays.</param>
/// <param name="feeds">Its stems.</param>
/// <param name="endFrame">Frames from the start of the song to the end of its longest stem.</param>
/// <param name="sides">Which side of a comparison is heard; null when nothing is compared.</param>
/// <param name="place">How it stands on the album; null for a song by itself.</param>
internal sealed class PlayingSong(Plan plan, PlayHead head, StemFeed[] feeds, long endFrame, SideMix? sides = null, SongOnAlbum? place = null)
{
    private readonly bool mayHang = plan.RunsForeignCode;

    public Plan Plan { get; } = plan;

    public PlayHead Head { get; } = head;

    /// <summary>Position of the head at which the last frame has left the plan: of the longest stem, or the one the album ends the song with.</summary>
    public long HeardEnd => (Place?.End ?? endFrame) + Plan.LatencyFrames;

    /// <summary>How it stands on the album while it is heard so; null otherwise.</summary>
    public SongOnAlbum? Place => place is { IsOn: true } ? place : null;

    /// <summary>Frames between the end of the song before and its own first frame: above 0 where it must start earlier.</summary>
    public long LeadFrames => Place is { } on ? on.Start + on.Crossed - on.Gap : 0;

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
        if (mayHang && PlanRunner.OfThisThread is { } runner)
        {
            runner.Run(Plan, frames);
        }
        else
        {
            Plan.Run(frames);
        }

        StereoBuffer heard = sides is null || Plan.InOutput is null ? Plan.Output : sides.Run(Plan.InOutput, Plan.Output, frames);
        place?.Apply(heard.Left.AsSpan(0, frames), heard.Right.AsSpan(0, frames), Head.Position - frames - Plan.LatencyFrames);
        return heard;
    }
}
