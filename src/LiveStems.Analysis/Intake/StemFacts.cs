using LiveStems.Files.Reading;

namespace LiveStems.Analysis.Intake;

/// <summary>What was measured in one file. Levels are in dBFS by AES17 (a sine of full scale reads 0), −∞ for silence.</summary>
/// <param name="Info">What the file says about itself.</param>
/// <param name="LevelDbfs">Root mean square of either side.</param>
/// <param name="Offset">Mean of the samples of either side, full scale ±1.</param>
/// <param name="Correlation">Of both sides over the whole, −1 to 1; NaN when a side is silent.</param>
/// <param name="IsMono">True when both sides of a stereo file hold the same samples.</param>
/// <param name="FloorDbfs">Level that the quietest twentieth of the sounding time (windows of 50 ms) lies below.</param>
/// <param name="SoundStartSeconds">Where the first sample other than 0 lies, to 50 ms; null for silence.</param>
/// <param name="SoundEndSeconds">Where the last one lies; null for silence.</param>
/// <param name="StartDbfs">Level of the first 10 ms.</param>
/// <param name="EndDbfs">Level of the last 10 ms.</param>
/// <param name="IntegratedLufs">Loudness; −∞ when nothing passes the gates.</param>
/// <param name="TruePeakDbtp">Largest true peak.</param>
/// <param name="SamplePeakDbfs">Largest sample, 0 for ±1.</param>
/// <param name="ShareAtPeak">Share of the loud blocks (1024 frames) that come within 0.1 dB of the largest sample.</param>
/// <param name="BlocksAtPeak">How many blocks do.</param>
/// <param name="FlatTops">Runs of three or more equal samples at the largest value.</param>
/// <param name="UsedBits">Bits in use, 0 for silence; null when samples are finer than 24 bits.</param>
/// <param name="Dropouts">Runs of zeros inside sound; size in frames.</param>
/// <param name="Clicks">Clicks; size in dBFS.</param>
/// <param name="Clipping">Clipped runs; size in frames.</param>
/// <param name="Overs">Blocks with true peaks above full scale; size in dBTP.</param>
public sealed record StemFacts(
    AudioFileInfo Info,
    SidePair LevelDbfs,
    SidePair Offset,
    double Correlation,
    bool IsMono,
    double FloorDbfs,
    double? SoundStartSeconds,
    double? SoundEndSeconds,
    double StartDbfs,
    double EndDbfs,
    double IntegratedLufs,
    double TruePeakDbtp,
    double SamplePeakDbfs,
    double ShareAtPeak,
    long BlocksAtPeak,
    long FlatTops,
    int? UsedBits,
    EventList Dropouts,
    EventList Clicks,
    EventList Clipping,
    EventList Overs)
{
    /// <summary>True when every sample is 0.</summary>
    public bool IsSilent => double.IsNegativeInfinity(SamplePeakDbfs);

    /// <summary>Level of both sides together.</summary>
    public double MeanDbfs => Dsp.Decibels.FromPower((Dsp.Decibels.ToPower(LevelDbfs.Left) + Dsp.Decibels.ToPower(LevelDbfs.Right)) / 2);
}
