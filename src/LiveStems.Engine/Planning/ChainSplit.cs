using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Planning;

/// <summary>A place in a chain from which a second path goes on: what comes before it is computed once for both.</summary>
internal sealed class ChainSplit(int slots, StereoBuffer buffer)
{
    /// <summary>Processors before the place.</summary>
    public int Slots { get; } = slots;

    /// <summary>Where the sound of that place is left.</summary>
    public StereoBuffer Buffer { get; } = buffer;

    /// <summary>Latency of the processors before the place; known once the chain is built.</summary>
    public int LatencyFrames { get; set; }
}
