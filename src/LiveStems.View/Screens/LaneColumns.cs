namespace LiveStems.View.Screens;

/// <summary>
/// How the width of the lanes is shared out: what stands beside the time axis gives way, what can be done elsewhere first,
/// before the axis is less than a third. All in logical units; 0 for a column that is left out.
/// </summary>
/// <param name="Head">The heads of the lanes, from name to pan.</param>
/// <param name="Level">The lanes' meters.</param>
/// <param name="Account">What each treatment buys at the limiter.</param>
/// <param name="Toggle">Each of solo, mute and dry.</param>
/// <param name="Gain">The level of a stem.</param>
/// <param name="Pan">Its place in the stereo picture.</param>
/// <param name="HasDry">True where a chain can be passed by from here.</param>
internal sealed record LaneColumns(float Head, float Level, float Account, float Toggle, float Gain, float Pan, bool HasDry)
{
    private const float AxisShare = 0.34f;

    // Pan and dry are in the chain too, the account in a drawer, solo and mute under keys.
    private static readonly LaneColumns[] Forms =
    [
        new(332, 84, 62, 36, 60, 42, true),
        new(298, 56, 54, 32, 60, 42, true),
        new(232, 44, 48, 32, 60, 0, false),
        new(232, 36, 0, 32, 60, 0, false),
        new(164, 20, 0, 32, 0, 0, false),
        new(96, 16, 0, 0, 0, 0, false),
    ];

    /// <summary>Everything, where there is room for it.</summary>
    public static LaneColumns Widest => Forms[0];

    /// <summary>What fits a width.</summary>
    public static LaneColumns For(float width) => Array.Find(Forms, form => form.AxisIn(width) >= width * AxisShare) ?? Forms[^1];

    /// <summary>What is left for the time axis.</summary>
    public float AxisIn(float width) => width - Head - Level - Account;
}
