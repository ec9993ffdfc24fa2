using LiveStems.Analysis.Spectra;

namespace LiveStems.Analysis.Intake;

/// <summary>What is left of the rough mix in one octave when the best-fit sum of the stems is taken away.</summary>
/// <param name="Band">The octave.</param>
/// <param name="ResidualDb">What is left, in dB below the mix in this octave; −∞ when nothing is.</param>
/// <param name="UnexplainedDb">What is left when each stem may also be filtered: what comes from no stem, or from distortion.</param>
public sealed record MixBand(OctaveBand Band, double ResidualDb, double UnexplainedDb);
