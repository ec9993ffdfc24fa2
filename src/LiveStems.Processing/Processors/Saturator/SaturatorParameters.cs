using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.Saturator;

/// <summary>The saturator's parameters, in the order of their indices.</summary>
internal static class SaturatorParameters
{
    public const int Curve = 0;
    public const int DriveDb = 1;
    public const int TiltDb = 2;
    public const int TiltHz = 3;
    public const int MatchLoudness = 4;
    public const int OutputGainDb = 5;
    public const int Oversampling = 6;

    public static readonly ProcessorDescription Description = new(
        "saturator",
        "Saturator",
        1,
        "Adds harmonics that were not there: density, warmth and edge, at the same loudness.",
        [
            ParameterSpec.Choice("curve", "Curve", ["soft", "asymmetric", "second harmonic", "third harmonic", "fold"], 0, "Which harmonics it adds: odd ones, odd and even ones, the second or the third alone, or many by folding peaks back.") with { IsStructural = true },
            new("driveDb", "Drive", ParameterUnit.Decibels, -12, 36, 6, Taper.Linear, "Gain into the curve; at 0 dB a full-scale peak reaches ±1 of the curve."),
            new("tiltDb", "Emphasis", ParameterUnit.Decibels, -12, 12, 0, Taper.Linear, "Raises the top over the bottom before the curve and takes it back behind: above 0 saturates the top more, below 0 the bottom."),
            new("tiltHz", "Emphasis pivot", ParameterUnit.Hertz, 100, 8000, 1000, Taper.Logarithmic, "Frequency about which the emphasis tilts."),
            ParameterSpec.Switch("matchLoudness", "Match loudness", true, "Brings the loudness (BS.1770) back to what came in, slowly; the output gain adds to it."),
            new("outputGainDb", "Output gain", ParameterUnit.Decibels, -36, 24, 0, Taper.Linear, "Gain behind the curve."),
            ParameterSpec.Choice("oversampling", "Oversampling", ["2x", "4x", "8x", "16x"], 1, "How many times the sample rate it works at: more of it makes less aliasing.") with { IsStructural = true },
        ],
        ListensToKey: false);
}
