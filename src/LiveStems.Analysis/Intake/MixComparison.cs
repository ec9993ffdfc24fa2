namespace LiveStems.Analysis.Intake;

/// <summary>The sum of the stems beside the rough mix.</summary>
/// <param name="Stems">How each stem lies in it, in the order of the stems; null for one that could not be read.</param>
/// <param name="MedianGainDb">The gain that the stems have in common.</param>
/// <param name="ResidualDb">What is left of the mix when the best-fit sum is taken away, in dB below it.</param>
/// <param name="UnexplainedDb">The same when each stem may also be filtered.</param>
/// <param name="Bands">Both by octaves.</param>
/// <param name="LeftOutShare">Share of the time that was left out because a file is damaged there, 0 to 1.</param>
public sealed record MixComparison(
    IReadOnlyList<StemInMix?> Stems, double MedianGainDb, double ResidualDb, double UnexplainedDb, IReadOnlyList<MixBand> Bands, double LeftOutShare);
