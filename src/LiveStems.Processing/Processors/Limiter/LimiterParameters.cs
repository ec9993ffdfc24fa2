using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.Limiter;

/// <summary>The limiter's parameters, in the order of their indices.</summary>
internal static class LimiterParameters
{
    public const int CeilingDbtp = 0;
    public const int InputGainDb = 1;
    public const int ReleaseMs = 2;
    public const int AdaptiveRelease = 3;
    public const int LinkPercent = 4;
    public const int LookAhead = 5;

    /// <summary>Milliseconds of each look-ahead choice.</summary>
    public static readonly double[] LookAheadMs = [1, 2, 3, 5, 10];

    public static readonly ProcessorDescription Description = new(
        "limiter",
        "Limiter",
        1,
        "Holds the true peak below a ceiling, so that a song can be brought up without overs behind a converter or codec.",
        [
            new("ceilingDbtp", "Ceiling", ParameterUnit.DecibelsTruePeak, -20, 0, -1, Taper.Linear, "True peak that the output does not pass."),
            new("inputGainDb", "Input gain", ParameterUnit.Decibels, -12, 24, 0, Taper.Linear, "Drives the sound into the limiter."),
            new("releaseMs", "Release", ParameterUnit.Milliseconds, 1, 1000, 60, Taper.Logarithmic, "Time constant with which the gain comes back after a peak (63 % of the way)."),
            ParameterSpec.Switch("adaptiveRelease", "Adaptive release", true, "Comes back at the set release after isolated peaks and up to twelve times slower after dense ones, and waits for the next wave of a bass."),
            new("linkPercent", "Stereo link", ParameterUnit.Percent, 0, 100, 100, Taper.Linear, "How far both channels share the deeper of their reductions; 100 % holds the stereo image still."),
            ParameterSpec.Choice("lookAhead", "Look-ahead", ["1 ms", "2 ms", "3 ms", "5 ms", "10 ms"], 2, "How long before a peak the gain starts to move: longer is smoother, and delays the sound more.") with { IsStructural = true },
        ],
        ListensToKey: false);
}
