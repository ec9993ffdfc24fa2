using LiveStems.Albums.Model;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.Streaming;

namespace LiveStems.Engine.Planning;

/// <summary>A compiled song over its open stems.</summary>
public sealed class SongPlan
{
    internal SongPlan(
        Song song,
        SongSources sources,
        Plan plan,
        IReadOnlyList<StemPath> stems,
        IReadOnlyList<PlannedSlot> busSlots,
        IReadOnlyList<string> remarks)
    {
        Song = song;
        Sources = sources;
        Plan = plan;
        Stems = stems;
        BusSlots = busSlots;
        Remarks = remarks;
    }

    /// <summary>What was compiled.</summary>
    public Song Song { get; }

    /// <summary>The stems it plays.</summary>
    public SongSources Sources { get; }

    /// <summary>Frames between the stems and the master, compensated everywhere.</summary>
    public int LatencyFrames => Plan.LatencyFrames;

    /// <summary>What the listener should know: processors that are not here, stems whose rate is converted.</summary>
    public IReadOnlyList<string> Remarks { get; }

    internal Plan Plan { get; }

    internal IReadOnlyList<StemPath> Stems { get; }

    internal IReadOnlyList<PlannedSlot> BusSlots { get; }

    internal ChainTaps? BusTaps { get; init; }
}
