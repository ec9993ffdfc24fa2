using LiveStems.Engine.Hosting;

namespace LiveStems.Engine.Planning;

/// <summary>What an outside processor has done in its place so far.</summary>
/// <param name="Song">Title of the song.</param>
/// <param name="Place">The stem, parallel or song bus.</param>
/// <param name="Processor">Its id.</param>
/// <param name="Faults">Times that it was passed by or the dry sound had to stand in for it.</param>
/// <param name="FramesLost">Frames that were heard without it for that reason.</param>
/// <param name="LastFault">What it did last, in words; null when nothing.</param>
public sealed record OutsideUse(string Song, string Place, string Processor, long Faults, long FramesLost, string? LastFault)
{
    /// <summary>True when it ran in a process of its own there.</summary>
    public bool RanApart { get; init; }

    /// <summary>What it has done wrong, for people: "2 faults, 512 frames without it; it has failed (it threw an exception)"; null when nothing.</summary>
    public string? FaultWords => Faults == 0 ? null
        : PlainText.Of($"{Count(Faults, FramesLost)}{(LastFault is null ? string.Empty : $"; it {(LastFault.StartsWith("its ", StringComparison.Ordinal) ? $"went by: {LastFault}" : LastFault)}")}");

    /// <summary>How often, and how much of it was heard: "1 fault, 512 frames without it".</summary>
    public static string Count(long faults, long framesLost) => $"{faults} fault{(faults == 1 ? string.Empty : "s")}, {framesLost} frames without it";
}
