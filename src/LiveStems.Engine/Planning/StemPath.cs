using LiveStems.Albums.Model;
using LiveStems.Engine.RealTime;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Engine.Planning;

/// <summary>What the control side knows of a stem's place in a running plan.</summary>
/// <param name="Stem">The settings it was compiled from.</param>
/// <param name="IsMono">True when the file has one channel.</param>
/// <param name="Slots">The slots of its chain.</param>
/// <param name="Output">Its output on the song bus.</param>
/// <param name="Parallels">Its parallels.</param>
internal sealed record StemPath(
    Stem Stem,
    bool IsMono,
    IReadOnlyList<PlannedSlot> Slots,
    BranchOutput Output,
    IReadOnlyList<ParallelPath> Parallels)
{
    /// <summary>The ends of its chain; null in plans that nobody looks at.</summary>
    public ChainTaps? Taps { get; init; }
}

/// <summary>What the control side knows of a parallel's place in a running plan.</summary>
/// <param name="Parallel">The settings it was compiled from.</param>
/// <param name="Slots">The slots of its chain.</param>
/// <param name="Output">Its output on the song bus; null when it was muted for good by a plan that left it out.</param>
internal sealed record ParallelPath(Parallel Parallel, IReadOnlyList<PlannedSlot> Slots, BranchOutput? Output)
{
    /// <summary>The ends of its chain; null in plans that nobody looks at.</summary>
    public ChainTaps? Taps { get; init; }
}
