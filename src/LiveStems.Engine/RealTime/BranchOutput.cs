namespace LiveStems.Engine.RealTime;

/// <summary>What one path delivers to the song bus: its aligned sound, twice over, and its gain in the mix.</summary>
internal sealed class BranchOutput
{
    private readonly StereoBuffer even;
    private readonly StereoBuffer odd;

    public BranchOutput(int maximumFrames, RampedStereoGain gain)
    {
        even = new(maximumFrames);
        odd = new(maximumFrames);
        Gain = gain;
    }

    /// <summary>The sound of another path under a gain of its own, for a second mix.</summary>
    public BranchOutput(BranchOutput shared, RampedStereoGain gain)
    {
        even = shared.even;
        odd = shared.odd;
        Gain = gain;
    }

    public RampedStereoGain Gain { get; }

    public StereoBuffer Side(int side) => side == 0 ? even : odd;
}
