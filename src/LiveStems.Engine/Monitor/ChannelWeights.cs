namespace LiveStems.Engine.Monitor;

/// <summary>What each side gets of both.</summary>
/// <param name="LeftOfLeft">Share of the left side in the left one.</param>
/// <param name="LeftOfRight">Share of the right side in the left one.</param>
/// <param name="RightOfLeft">Share of the left side in the right one.</param>
/// <param name="RightOfRight">Share of the right side in the right one.</param>
internal readonly record struct ChannelWeights(double LeftOfLeft, double LeftOfRight, double RightOfLeft, double RightOfRight)
{
    /// <summary>Both sides as they are.</summary>
    public static ChannelWeights Stereo { get; } = new(1, 0, 0, 1);

    /// <summary>The weights of a choice; mid is (L+R)/2, side (L−R)/2 (common practice).</summary>
    public static ChannelWeights For(MonitorChannels channels, bool isSwapped)
    {
        ChannelWeights plain = channels switch
        {
            MonitorChannels.Mono => new(0.5, 0.5, 0.5, 0.5),
            MonitorChannels.Side => new(0.5, -0.5, 0.5, -0.5),
            _ => Stereo,
        };
        return isSwapped ? new(plain.RightOfLeft, plain.RightOfRight, plain.LeftOfLeft, plain.LeftOfRight) : plain;
    }
}
