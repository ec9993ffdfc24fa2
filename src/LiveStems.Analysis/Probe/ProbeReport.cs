namespace LiveStems.Analysis.Probe;

/// <summary>One frequency of a measured response.</summary>
/// <param name="FrequencyHz">Frequency of the tone.</param>
/// <param name="GainDb">Output over input in decibels.</param>
/// <param name="PhaseDegrees">Output phase minus input phase, the declared latency removed, −180 to +180.</param>
/// <param name="GroupDelayMs">Delay of the envelope there on top of the latency, in milliseconds: the slope of the phase.</param>
public readonly record struct ResponsePoint(double FrequencyHz, double GainDb, double PhaseDegrees, double GroupDelayMs);

/// <summary>One level of a measured level curve.</summary>
/// <param name="InputDbfs">Peak level of the tone that went in.</param>
/// <param name="OutputDbfs">Level of what came out, as the peak of a sine of the same power.</param>
/// <param name="HarmonicsDb">Levels of the second, third … harmonic in dB relative to the fundamental.</param>
public readonly record struct LevelPoint(double InputDbfs, double OutputDbfs, IReadOnlyList<double> HarmonicsDb);

/// <summary>One moment of the gain while the level steps up and down.</summary>
/// <param name="Seconds">Time since the step up; the step down is at 1 s.</param>
/// <param name="GainDb">Output over input in decibels.</param>
public readonly record struct StepPoint(double Seconds, double GainDb);

/// <summary>What a processor or chain does, measured.</summary>
/// <param name="SampleRate">Rate of the measurement in Hz.</param>
/// <param name="LatencyFrames">Declared latency.</param>
/// <param name="ResponseLevelDbfs">Peak level of the tones of the response.</param>
/// <param name="Response">Gain, phase and group delay over frequency.</param>
/// <param name="LevelFrequencyHz">Frequency of the tones of the level curve.</param>
/// <param name="Levels">Output level and harmonics over input level.</param>
/// <param name="Step">The gain when the level steps from −30 to −6 dBFS and back.</param>
/// <param name="NoiseFloorDbfs">Level of what comes out when silence goes in, dBFS of its mean square; −∞ for none.</param>
/// <param name="Decay">How sound dies away, where it reverberates; otherwise null.</param>
/// <param name="NanosecondsPerFrame">Cost of a stereo frame in blocks of 512 frames.</param>
/// <param name="NanosecondsPerFrameShort">Cost of a stereo frame in blocks of 64 frames.</param>
public sealed record ProbeReport(
    int SampleRate,
    int LatencyFrames,
    double ResponseLevelDbfs,
    IReadOnlyList<ResponsePoint> Response,
    double LevelFrequencyHz,
    IReadOnlyList<LevelPoint> Levels,
    IReadOnlyList<StepPoint> Step,
    double NoiseFloorDbfs,
    DecayReport? Decay,
    double NanosecondsPerFrame,
    double NanosecondsPerFrameShort);
