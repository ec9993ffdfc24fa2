using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.DeEsser;

/// <summary>The de-esser's parameters, in the order of their indices.</summary>
internal static class DeEsserParameters
{
    public const int FrequencyHz = 0;
    public const int ThresholdDb = 1;
    public const int RangeDb = 2;
    public const int AttackMs = 3;
    public const int ReleaseMs = 4;
    public const int Mode = 5;
    public const int LookAhead = 6;

    public const int SplitBand = 0;
    public const int Wide = 1;

    /// <summary>Milliseconds of each look-ahead choice.</summary>
    public static readonly double[] LookAheadMs = [0, 1, 2, 5];

    public static readonly ProcessorDescription Description = new(
        "de-esser",
        "De-esser",
        1,
        "Softens sharp sibilants of a voice, in loud and in quiet lines alike, and leaves the vowels alone.",
        [
            new("frequencyHz", "Frequency", ParameterUnit.Hertz, 2000, 12_000, 5500, Taper.Logarithmic, "Sibilance is what lies above; in split-band mode only that is taken down."),
            new("thresholdDb", "Threshold", ParameterUnit.Decibels, -40, 12, -12, Taper.Linear, "Level of the sibilance beside the voice's own level, above which it is held down; how loud the voice is does not matter."),
            new("rangeDb", "Range", ParameterUnit.Decibels, 0, 24, 6, Taper.Linear, "Sibilants are taken down by no more than this."),
            new("attackMs", "Attack", ParameterUnit.Milliseconds, 0.05, 20, 0.5, Taper.Logarithmic, "Time constant with which the reduction deepens (63 % of the way)."),
            new("releaseMs", "Release", ParameterUnit.Milliseconds, 5, 500, 20, Taper.Logarithmic, "Time constant with which the reduction fades (63 % of the way)."),
            ParameterSpec.Choice("mode", "Mode", ["split-band", "wide"], SplitBand, "Whether the sound above the frequency is taken down, or all of it.") with { IsStructural = true },
            ParameterSpec.Choice("lookAhead", "Look-ahead", ["0 ms", "1 ms", "2 ms", "5 ms"], 2, "Lets the gain move before the sibilant that needs it; delays the sound by as much.") with { IsStructural = true },
        ],
        ListensToKey: true);
}
