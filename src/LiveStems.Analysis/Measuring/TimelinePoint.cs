namespace LiveStems.Analysis.Measuring;

/// <summary>Loudness, peaks and correlation at a moment.</summary>
/// <param name="Seconds">The moment the windows end at.</param>
/// <param name="MomentaryLufs">Loudness of the last 0.4 s; the largest where moments were merged.</param>
/// <param name="ShortTermLufs">Loudness of the last 3 s; NaN in the first 3 s.</param>
/// <param name="TruePeakDbtp">Largest true peak since the last point.</param>
/// <param name="PeakToShortTermLu">
/// Largest true peak of the last 3 s above the short-term loudness (PSR); the smallest where moments were merged, NaN in
/// the first 3 s and in silence.
/// </param>
/// <param name="Correlation">Of both sides since the last point, −1 to 1; NaN when a side is silent.</param>
public sealed record TimelinePoint(
    double Seconds, double MomentaryLufs, double ShortTermLufs, double TruePeakDbtp, double PeakToShortTermLu, double Correlation);
