using LiveStems.Analysis.Spectra;
using LiveStems.Dsp.Loudness;
using LiveStems.Engine.Comparing;

namespace LiveStems.Analysis.Comparing;

/// <summary>Both sides of a comparison, measured.</summary>
/// <param name="Words">What was compared.</param>
/// <param name="SampleRate">Rate of both sides in Hz.</param>
/// <param name="FromSeconds">Where the stretch starts in the song.</param>
/// <param name="Seconds">Its length.</param>
/// <param name="In">Loudness and peaks of "in".</param>
/// <param name="Out">Loudness and peaks of "out".</param>
/// <param name="Fair">The gains that make both equally loud.</param>
/// <param name="DifferenceDbfs">Root mean square of out minus in over both channels, re a full-scale square; −∞ when they are the same.</param>
/// <param name="DifferencePeakDbfs">Its largest sample.</param>
/// <param name="FairDifferenceDbfs">Root mean square of what differs once both are equally loud.</param>
/// <param name="Bands">Third octaves, upwards.</param>
public sealed record ComparisonReport(
    string Words,
    int SampleRate,
    double FromSeconds,
    double Seconds,
    LoudnessReport In,
    LoudnessReport Out,
    FairGain Fair,
    double DifferenceDbfs,
    double DifferencePeakDbfs,
    double FairDifferenceDbfs,
    IReadOnlyList<ComparedBand> Bands);

/// <summary>One third octave of a comparison; levels as <see cref="BandLevel.MeanDbfs"/>.</summary>
/// <param name="Band">The band.</param>
/// <param name="InDbfs">Level of "in".</param>
/// <param name="OutDbfs">Level of "out".</param>
/// <param name="DifferenceDbfs">Level of out minus in.</param>
/// <param name="FairChangeDb">Level of "out" over "in" once both are equally loud; NaN where one is silent.</param>
public sealed record ComparedBand(OctaveBand Band, double InDbfs, double OutDbfs, double DifferenceDbfs, double FairChangeDb);
