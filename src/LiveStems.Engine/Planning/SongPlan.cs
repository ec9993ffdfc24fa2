using LiveStems.Albums.Model;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.Streaming;

namespace LiveStems.Engine.Planning;

/// <summary>A compiled song over its open stems.</summary>
public sealed class SongPlan
{
    internal SongPlan(SongSide side, SongSide? inSide, SongSources sources, Plan plan, IReadOnlyList<string> remarks)
    {
        Side = side;
        InSide = inSide;
        Sources = sources;
        Plan = plan;
        Remarks = remarks;
    }

    /// <summary>What was compiled, links resolved.</summary>
    public Song Song => Side.Song;

    /// <summary>The stems it plays.</summary>
    public SongSources Sources { get; }

    /// <summary>Frames between the stems and the master, compensated everywhere.</summary>
    public int LatencyFrames => Plan.LatencyFrames;

    /// <summary>What the listener should know: processors that are not here, stems whose rate is converted.</summary>
    public IReadOnlyList<string> Remarks { get; }

    internal Plan Plan { get; }

    /// <summary>The song.</summary>
    internal SongSide Side { get; }

    /// <summary>The song on the other side of a comparison; null when there is none or it is a file.</summary>
    internal SongSide? InSide { get; }

    internal IReadOnlyList<StemPath> Stems => Side.Stems;

    internal IReadOnlyList<PlannedSlot> BusSlots => Side.BusSlots;

    internal ChainTaps? BusTaps { get; init; }
}

/// <summary>What the control side knows of one song in a running plan.</summary>
/// <param name="Song">What it was compiled from, links resolved.</param>
/// <param name="Stems">Its stems.</param>
/// <param name="BusSlots">The slots of its song chain that run for it.</param>
/// <param name="Sharing">What it takes from the first song of the plan; null for the first itself.</param>
internal sealed record SongSide(Song Song, IReadOnlyList<StemPath> Stems, IReadOnlyList<PlannedSlot> BusSlots, Sharing? Sharing);
