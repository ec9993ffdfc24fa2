using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.ResonanceSuppressor;

/// <summary>The resonance suppressor's parameters, in the order of their indices.</summary>
internal static class ResonanceSuppressorParameters
{
    public const int DepthPercent = 0;
    public const int SelectivityDb = 1;
    public const int AttackMs = 2;
    public const int ReleaseMs = 3;
    public const int LowHz = 4;
    public const int HighHz = 5;
    public const int DeepestCutDb = 6;
    public const int LinkPercent = 7;
    public const int Resolution = 8;

    /// <summary>Nominal length of each window in milliseconds; the nearest power of two of frames is taken.</summary>
    public static readonly double[] WindowMs = [21.3, 42.7, 85.3];

    public static readonly ProcessorDescription Description = new(
        "resonance-suppressor",
        "Resonance suppressor",
        1,
        "Finds partials that ring out above the sound's own smooth spectrum and takes down only them, only while they ring.",
        [
            new("depthPercent", "Share of the surplus", ParameterUnit.Percent, 0, 100, 60, Taper.Linear, "How much of a resonance's surplus over the smooth spectrum is taken away; at 100 % it sinks into it."),
            new("selectivityDb", "Threshold above the trend", ParameterUnit.Decibels, 1, 20, 5, Taper.Linear, "How far a partial must stand above the smooth spectrum before it is touched; higher leaves more alone."),
            new("attackMs", "Attack", ParameterUnit.Milliseconds, 5, 500, 50, Taper.Logarithmic, "How long a partial must persist (63 % of the way); shorter catches more, and noises and strokes with it."),
            new("releaseMs", "Release", ParameterUnit.Milliseconds, 5, 2000, 80, Taper.Logarithmic, "Time constant with which a cut fades when the resonance is over (63 % of the way)."),
            new("lowHz", "From", ParameterUnit.Hertz, 20, 20_000, 150, Taper.Logarithmic, "Below this frequency nothing is touched; the edge is half an octave soft."),
            new("highHz", "To", ParameterUnit.Hertz, 20, 20_000, 16_000, Taper.Logarithmic, "Above this frequency nothing is touched; the edge is half an octave soft."),
            new("deepestCutDb", "Deepest cut", ParameterUnit.Decibels, 0, 30, 12, Taper.Linear, "No frequency is taken down by more than this."),
            new("linkPercent", "Stereo link", ParameterUnit.Percent, 0, 100, 100, Taper.Linear, "How far both channels share one spectrum and so one cut; 100 % holds the stereo image still."),
            ParameterSpec.Choice("resolution", "Window length", ["21 ms", "43 ms", "85 ms"], 1, "Length of the window: longer tells close partials apart, down to lower frequencies, but follows more slowly and delays the sound by as much.") with { IsStructural = true },
        ],
        ListensToKey: false);
}
