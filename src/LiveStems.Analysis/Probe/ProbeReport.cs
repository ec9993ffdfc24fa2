namespace LiveStems.Analysis.Probe;

/// <summary>One frequency of a measured response.</summary>
/// <param name="FrequencyHz">Frequency of the tone.</param>
/// <param name="GainDb">Output over input in decibels.</param>
/// <param name="PhaseDegrees">Output phase minus input phase, the declared latency removed, −180 to +180.</param>
public readonly record struct ResponsePoint(double FrequencyHz, double GainDb, double PhaseDegrees);

/// <summary>One level of a measured level curve.</summary>
/// <param name="InputDbfs">Peak level of the tone that went in.</param>
/// <param name="OutputDbfs">Level of what came out, as the peak of a sine of the same power.</param>
public readonly record struct LevelPoint(double InputDbfs, double OutputDbfs);

/// <summary>What a processor does, measured.</summary>
/// <param name="SampleRate">Rate of the measurement in Hz.</param>
/// <param name="LatencyFrames">Declared latency.</param>
/// <param name="ResponseLevelDbfs">Peak level of the tones of the response.</param>
/// <param name="Response">Gain and phase over frequency.</param>
/// <param name="LevelFrequencyHz">Frequency of the tones of the level curve.</param>
/// <param name="Levels">Output level over input level.</param>
public sealed record ProbeReport(
    int SampleRate,
    int LatencyFrames,
    double ResponseLevelDbfs,
    IReadOnlyList<ResponsePoint> Response,
    double LevelFrequencyHz,
    IReadOnlyList<LevelPoint> Levels);
