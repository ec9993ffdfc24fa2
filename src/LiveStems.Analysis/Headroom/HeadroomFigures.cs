namespace LiveStems.Analysis.Headroom;

/// <summary>What a song asks of its limiter, and how loud it comes out.</summary>
/// <param name="SamplePeakDbfs">Highest sample before the limiter and its input gain, in dBFS.</param>
/// <param name="TruePeakDbtp">Highest true peak there, in dBTP (ITU-R BS.1770-5, Annex 2).</param>
/// <param name="LargestReductionDb">Deepest gain reduction of the limiter in dB, 0 or above.</param>
/// <param name="MeanReductionDb">
/// Gain reduction averaged over time in dB, the limiter's work: the mean of the deepest in every 256 frames, from the start to
/// the end of the longest stem.
/// </param>
/// <param name="ShareAbove1Db">Share of the time with more than 1 dB of reduction, 0 to 1.</param>
/// <param name="ShareAbove3Db">Share of the time with more than 3 dB of reduction, 0 to 1.</param>
/// <param name="IntegratedLufs">Loudness behind the limiter at its present setting, in LUFS (ITU-R BS.1770-5).</param>
public sealed record HeadroomFigures(
    double SamplePeakDbfs,
    double TruePeakDbtp,
    double LargestReductionDb,
    double MeanReductionDb,
    double ShareAbove1Db,
    double ShareAbove3Db,
    double IntegratedLufs);
