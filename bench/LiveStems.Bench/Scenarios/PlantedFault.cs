using LiveStems.Analysis.Intake;

namespace LiveStems.Bench.Scenarios;

/// <summary>A fault that was put into a stem on purpose.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Stem">The stem.</param>
/// <param name="Size">Samples late, dB too loud, dBFS, or how many places; for polarity the side, or NaN for both.</param>
internal sealed record PlantedFault(FindingKind Kind, string Stem, double Size)
{
    /// <summary>Where, for faults that have places.</summary>
    public List<double> Seconds { get; } = [];
}
