namespace LiveStems.Engine.RealTime;

/// <summary>What one path delivers to the song bus: its aligned sound, twice over, and its gain in the mix.</summary>
internal sealed class BranchOutput(int maximumFrames, RampedStereoGain gain)
{
    private readonly StereoBuffer even = new(maximumFrames);
    private readonly StereoBuffer odd = new(maximumFrames);

    public RampedStereoGain Gain { get; } = gain;

    public StereoBuffer Side(int side) => side == 0 ? even : odd;
}
