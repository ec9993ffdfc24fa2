using LiveStems.Albums.Model;
using LiveStems.Engine.RealTime.Steps;

namespace LiveStems.Engine.Planning;

/// <summary>A slot of the album and the step of the plan that runs it.</summary>
/// <param name="Slot">The settings it was made from.</param>
/// <param name="Step">The running step; null when the slot was bypassed for good by a plan that cannot change.</param>
internal sealed record PlannedSlot(ChainSlot Slot, ProcessorStep? Step)
{
    /// <summary>Its two ends; null in plans that nobody looks at.</summary>
    public ChainTaps? Taps { get; init; }
}
