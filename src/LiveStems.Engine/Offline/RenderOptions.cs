namespace LiveStems.Engine.Offline;

/// <summary>How a render is carried out; none of it changes a bit of the result.</summary>
/// <param name="Threads">Threads that share the work, at least 1.</param>
/// <param name="BlockFrames">Frames at a time, 1 to the plan's longest block.</param>
public sealed record RenderOptions(int Threads, int BlockFrames)
{
    /// <summary>Frames that are delivered at least, in silence if need be; the song's own length counts when it is longer.</summary>
    public long LeastFrames { get; init; }

    /// <summary>All cores, the block length that measured fastest.</summary>
    public static RenderOptions Default { get; } = new(Environment.ProcessorCount, Planning.PlanOptions.Offline.MaximumFrames);
}
