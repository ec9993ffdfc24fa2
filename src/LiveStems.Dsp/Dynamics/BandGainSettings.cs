namespace LiveStems.Dsp.Dynamics;

/// <summary>How the gain of a band follows its level.</summary>
/// <param name="ThresholdDb">Level at which it begins to act: dB of a sine beside full scale, or beside the band's own long-term level.</param>
/// <param name="IsRelative">Whether the threshold counts from the long-term level.</param>
/// <param name="ActsBelow">Whether levels below the threshold move the gain, instead of those above.</param>
/// <param name="Ratio">Above: decibels more in that the action turns into one decibel more. Below: decibels that one decibel less in becomes.</param>
/// <param name="KneeDb">Width of the bend around the threshold, 0 or above.</param>
/// <param name="RangeDb">The most that the gain moves, 0 or above.</param>
/// <param name="AttackMs">Time constant with which the action deepens.</param>
/// <param name="ReleaseMs">Time constant with which the action fades.</param>
public readonly record struct BandGainSettings(
    double ThresholdDb,
    bool IsRelative,
    bool ActsBelow,
    double Ratio,
    double KneeDb,
    double RangeDb,
    double AttackMs,
    double ReleaseMs);
