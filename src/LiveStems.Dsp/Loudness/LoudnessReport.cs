namespace LiveStems.Dsp.Loudness;

/// <summary>The figures of a whole programme (ITU-R BS.1770-5, EBU Tech 3341 and 3342).</summary>
/// <param name="IntegratedLufs">Gated loudness in LUFS; −∞ when nothing passes the gates.</param>
/// <param name="LoudnessRangeLu">Loudness range in LU; 0 when nothing passes the gates.</param>
/// <param name="MaximumMomentaryLufs">Loudest 0.4 s in LUFS; −∞ for silence.</param>
/// <param name="MaximumShortTermLufs">Loudest 3 s in LUFS; −∞ for silence.</param>
/// <param name="TruePeakDbtp">Largest true peak of both channels in dBTP; −∞ for silence.</param>
/// <param name="SamplePeakDbfs">Largest sample of both channels in dBFS; −∞ for silence.</param>
public sealed record LoudnessReport(
    double IntegratedLufs,
    double LoudnessRangeLu,
    double MaximumMomentaryLufs,
    double MaximumShortTermLufs,
    double TruePeakDbtp,
    double SamplePeakDbfs)
{
    /// <summary>
    /// True peak minus integrated loudness in LU (peak-to-loudness ratio); null when nothing passes the gates.
    /// </summary>
    public double? PeakToLoudnessLu => double.IsFinite(IntegratedLufs) ? TruePeakDbtp - IntegratedLufs : null;
}
