namespace LiveStems.Engine.Planning;

/// <summary>What an outside processor has done in its place so far.</summary>
/// <param name="Place">The stem, parallel or song bus.</param>
/// <param name="Processor">Its id.</param>
/// <param name="Faults">Times that it was passed by or the dry sound had to stand in for it.</param>
/// <param name="FramesLost">Frames that were heard without it for that reason.</param>
/// <param name="LastFault">What it did last, in words; null when nothing.</param>
public sealed record OutsideUse(string Place, string Processor, long Faults, long FramesLost, string? LastFault)
{
    /// <summary>True when it ran in a process of its own there.</summary>
    public bool RanApart { get; init; }
}
