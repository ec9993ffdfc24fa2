using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.Compressor;

/// <summary>The compressor's parameters, in the order of their indices.</summary>
internal static class CompressorParameters
{
    public const int ThresholdDb = 0;
    public const int Ratio = 1;
    public const int KneeDb = 2;
    public const int AttackMs = 3;
    public const int ReleaseMs = 4;
    public const int AutoRelease = 5;
    public const int Topology = 6;
    public const int Detector = 7;
    public const int RmsWindowMs = 8;
    public const int KeyHighPassOn = 9;
    public const int KeyHighPassHz = 10;
    public const int LinkPercent = 11;
    public const int MakeUpDb = 12;
    public const int AutoMakeUp = 13;
    public const int LookAhead = 14;

    public const int FeedForward = 0;
    public const int FeedBack = 1;
    public const int Peak = 0;
    public const int Rms = 1;

    /// <summary>From this ratio on the compressor is a limiter, ∞:1.</summary>
    public const double InfiniteRatio = 100;

    /// <summary>Milliseconds of each look-ahead choice.</summary>
    public static readonly double[] LookAheadMs = [0, 1, 2, 5, 10];

    public static readonly ProcessorDescription Description = new(
        "compressor",
        "Compressor",
        1,
        "Evens out the level of a sound: holds loud passages down so that the whole can come up.",
        [
            new("thresholdDb", "Threshold", ParameterUnit.Decibels, -80, 0, -20, Taper.Linear, "Level above which the sound is held down: peak, or the RMS level of a sine of that peak."),
            new("ratio", "Ratio", ParameterUnit.Ratio, 1, InfiniteRatio, 2, Taper.Logarithmic, "How many decibels more going in make one decibel more coming out; 100:1 counts as ∞:1."),
            new("kneeDb", "Knee", ParameterUnit.Decibels, 0, 24, 6, Taper.Linear, "Width of the bend around the threshold."),
            new("attackMs", "Attack", ParameterUnit.Milliseconds, 0.05, 250, 10, Taper.Logarithmic, "Time constant with which the reduction deepens (63 % of the way)."),
            new("releaseMs", "Release", ParameterUnit.Milliseconds, 5, 3000, 150, Taper.Logarithmic, "Time constant with which the reduction fades (63 % of the way)."),
            ParameterSpec.Switch("autoRelease", "Programme-dependent release", false, "Lets go quickly after a short peak and slowly after a long passage."),
            ParameterSpec.Choice("topology", "Topology", ["feed-forward", "feed-back"], FeedForward, "Whether the detector hears the sound before the gain or after it; after it, the attack is the quicker the harder the sound drives it."),
            ParameterSpec.Choice("detector", "Detector", ["peak", "RMS"], Peak, "Whether the level is that of each sample or the average power."),
            new("rmsWindowMs", "RMS window", ParameterUnit.Milliseconds, 1, 500, 20, Taper.Logarithmic, "Time constant of the averaging of the RMS detector."),
            ParameterSpec.Switch("keyHighPass", "Key high-pass", false, "Keeps low frequencies from moving the gain; the sound itself is not filtered."),
            new("keyHighPassHz", "Key high-pass frequency", ParameterUnit.Hertz, 20, 500, 100, Taper.Logarithmic, "Corner of the key high-pass, 12 dB/oct."),
            new("linkPercent", "Stereo link", ParameterUnit.Percent, 0, 100, 100, Taper.Linear, "How far both channels share the deeper of their reductions; 100 % holds the stereo image still."),
            new("makeUpDb", "Make-up gain", ParameterUnit.Decibels, -24, 24, 0, Taper.Linear, "Gain after the compression."),
            ParameterSpec.Switch("autoMakeUp", "Automatic make-up", false, "Brings the loudness (BS.1770) back to what came in, slowly; the make-up gain adds to it."),
            ParameterSpec.Choice("lookAhead", "Look-ahead", ["0 ms", "1 ms", "2 ms", "5 ms", "10 ms"], 0, "Lets the gain move before the sound that needs it; delays the sound by as much.") with { IsStructural = true },
        ],
        ListensToKey: true);
}
