using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.Expander;

/// <summary>The expander's parameters, in the order of their indices.</summary>
internal static class ExpanderParameters
{
    public const int ThresholdDb = 0;
    public const int Ratio = 1;
    public const int KneeDb = 2;
    public const int RangeDb = 3;
    public const int HysteresisDb = 4;
    public const int AttackMs = 5;
    public const int HoldMs = 6;
    public const int ReleaseMs = 7;
    public const int KeyHighPassOn = 8;
    public const int KeyHighPassHz = 9;
    public const int KeyLowPassOn = 10;
    public const int KeyLowPassHz = 11;
    public const int LinkPercent = 12;
    public const int LookAhead = 13;

    /// <summary>From this ratio on the expander is a gate.</summary>
    public const double GateRatio = 100;

    /// <summary>Milliseconds of each look-ahead choice.</summary>
    public static readonly double[] LookAheadMs = [0, 1, 2, 5, 10];

    public static readonly ProcessorDescription Description = new(
        "expander",
        "Expander and gate",
        1,
        "Takes down what lies between the hits: dries up hats and ringing between kick and snare.",
        [
            new("thresholdDb", "Threshold", ParameterUnit.Decibels, -80, 0, -36, Taper.Linear, "Peak level at which it opens; what stays below is taken down."),
            new("ratio", "Ratio", ParameterUnit.Ratio, 1, GateRatio, 3, Taper.Logarithmic, "How many decibels less come out for one decibel less going in; 100:1 counts as a gate, ∞:1."),
            new("kneeDb", "Knee", ParameterUnit.Decibels, 0, 24, 6, Taper.Linear, "Width of the bend around the threshold."),
            new("rangeDb", "Range", ParameterUnit.Decibels, -80, 0, -12, Taper.Linear, "Gain that it never goes below."),
            new("hysteresisDb", "Hysteresis", ParameterUnit.Decibels, 0, 24, 3, Taper.Linear, "How far below the threshold the level must fall before it closes; stops chatter."),
            new("attackMs", "Attack", ParameterUnit.Milliseconds, 0.05, 250, 0.5, Taper.Logarithmic, "Time constant with which it opens (63 % of the way in decibels)."),
            new("holdMs", "Hold", ParameterUnit.Milliseconds, 0, 500, 20, Taper.Linear, "How long it stays open after the level fell, on top of the detector's 12.5 ms."),
            new("releaseMs", "Release", ParameterUnit.Milliseconds, 5, 3000, 120, Taper.Logarithmic, "Time constant with which it closes (63 % of the way in decibels)."),
            ParameterSpec.Switch("keyHighPass", "Key high-pass", false, "Keeps low frequencies from opening it; the sound itself is not filtered."),
            new("keyHighPassHz", "Key high-pass frequency", ParameterUnit.Hertz, 20, 5000, 100, Taper.Logarithmic, "Corner of the key high-pass, 12 dB/oct."),
            ParameterSpec.Switch("keyLowPass", "Key low-pass", false, "Keeps high frequencies from opening it; the sound itself is not filtered."),
            new("keyLowPassHz", "Key low-pass frequency", ParameterUnit.Hertz, 50, 20_000, 2000, Taper.Logarithmic, "Corner of the key low-pass, 12 dB/oct."),
            new("linkPercent", "Stereo link", ParameterUnit.Percent, 0, 100, 100, Taper.Linear, "How far both channels share the smaller of their reductions; 100 % holds the stereo image still."),
            ParameterSpec.Choice("lookAhead", "Look-ahead", ["0 ms", "1 ms", "2 ms", "5 ms", "10 ms"], 3, "Lets it open before the hit, so that attacks of up to a fifth of it stay whole; delays the sound by as much.") with { IsStructural = true },
        ],
        ListensToKey: true);
}
