namespace LiveStems.Engine.RealTime;

/// <summary>What one path delivers to the song bus: its aligned sound, once for each block under way, and its gain in the mix.</summary>
internal sealed class BranchOutput
{
    private readonly StereoBuffer[] sides;

    public BranchOutput(int maximumFrames, int blocksInFlight, RampedStereoGain gain)
    {
        sides = new StereoBuffer[blocksInFlight];
        for (int side = 0; side < sides.Length; side++)
        {
            sides[side] = new StereoBuffer(maximumFrames);
        }

        Gain = gain;
    }

    /// <summary>The sound of another path under a gain of its own, for a second mix.</summary>
    public BranchOutput(BranchOutput shared, RampedStereoGain gain)
    {
        sides = shared.sides;
        Gain = gain;
    }

    public RampedStereoGain Gain { get; }

    public StereoBuffer Side(int side) => sides[side];
}
