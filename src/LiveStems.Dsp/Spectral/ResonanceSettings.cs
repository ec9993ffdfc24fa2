namespace LiveStems.Dsp.Spectral;

/// <summary>How resonances are found and taken down.</summary>
/// <param name="Depth">How much of a peak's surplus over the trend is taken away, 0 to 1.</param>
/// <param name="SelectivityDb">How far a peak must stand above the trend before it is touched, dB.</param>
/// <param name="AttackMs">Time constant of the detector, over which a peak must persist, ms.</param>
/// <param name="ReleaseMs">Time constant with which a cut fades, ms.</param>
/// <param name="LowHz">Lower edge of the range, Hz; half an octave soft.</param>
/// <param name="HighHz">Upper edge of the range, Hz; half an octave soft.</param>
/// <param name="DeepestCutDb">No cut goes deeper, dB, 0 or above.</param>
/// <param name="Link">How far both channels share one spectrum, 0 to 1.</param>
public readonly record struct ResonanceSettings(
    double Depth,
    double SelectivityDb,
    double AttackMs,
    double ReleaseMs,
    double LowHz,
    double HighHz,
    double DeepestCutDb,
    double Link);
