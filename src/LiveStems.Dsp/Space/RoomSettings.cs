namespace LiveStems.Dsp.Space;

/// <summary>How a <see cref="RoomReverberator"/> sounds; all of it may move while it runs.</summary>
/// <param name="DryGain">Gain of the sound itself.</param>
/// <param name="WetGain">Gain of the room; at 1 it answers noise about as loud as it came.</param>
/// <param name="EarlyGain">Gain of the early reflections beside the late ones.</param>
/// <param name="Spread">How much of the middle the room answers at the sides, 0 to 1.</param>
/// <param name="Width">Sides of the answer beside its middle, 0 or above.</param>
/// <param name="LowSeconds">Reverberation time below the damping, s.</param>
/// <param name="HighSeconds">Reverberation time above the damping, s.</param>
/// <param name="DampingHz">Where one goes over into the other, Hz.</param>
/// <param name="LowCutHz">High-pass in front of the room, Hz.</param>
public readonly record struct RoomSettings(
    double DryGain,
    double WetGain,
    double EarlyGain,
    double Spread,
    double Width,
    double LowSeconds,
    double HighSeconds,
    double DampingHz,
    double LowCutHz);
