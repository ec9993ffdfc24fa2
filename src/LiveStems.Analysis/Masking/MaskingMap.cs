using System.Collections.Immutable;
using LiveStems.Analysis.Trouble;

namespace LiveStems.Analysis.Masking;

/// <summary>One stem covering another in a range of frequencies.</summary>
/// <param name="Covered">Name of the stem that is covered.</param>
/// <param name="By">Name of the stem that covers it.</param>
/// <param name="LowHz">Lower edge of the range in which it does so most.</param>
/// <param name="HighHz">Upper edge.</param>
/// <param name="ShareOfTime">Share of the time that the covered stem sounds in the range, 0 to 1.</param>
/// <param name="Weight">Covered bands times seconds; what pairs are ranked by.</param>
/// <param name="Ranges">When more than half of what the covered stem plays is covered.</param>
public sealed record MaskingPair(
    string Covered, string By, double LowHz, double HighHz, double ShareOfTime, double Weight, ImmutableArray<TimeRange> Ranges);

/// <summary>Which stem of a song covers which.</summary>
/// <param name="Stems">Names of the stems.</param>
/// <param name="BandHz">Middles of the bands, Hz.</param>
/// <param name="SoundingShare">By stem and band: share of the song in which the stem sounds there.</param>
/// <param name="CoveredShare">By stem and band: share of that in which the others together cover it.</param>
/// <param name="PairShare">By covered stem and covering stem: share of all that the stem plays.</param>
/// <param name="Worst">Pairs, the weightiest first.</param>
public sealed record MaskingMap(
    ImmutableArray<string> Stems,
    ImmutableArray<double> BandHz,
    ImmutableArray<ImmutableArray<double>> SoundingShare,
    ImmutableArray<ImmutableArray<double>> CoveredShare,
    ImmutableArray<ImmutableArray<double>> PairShare,
    ImmutableArray<MaskingPair> Worst)
{
    /// <summary>By covered stem, covering stem and band: share of the time the covered stem sounds there in which the other covers it; empty when not kept.</summary>
    public ImmutableArray<ImmutableArray<ImmutableArray<double>>> PairBandShare { get; init; } = [];

    /// <summary>Share of all that a stem plays which the others together cover, 0 to 1.</summary>
    public double CoveredOf(int stem)
    {
        double sounding = SoundingShare[stem].Sum();
        return sounding > 0 ? SoundingShare[stem].Zip(CoveredShare[stem], (share, covered) => share * covered).Sum() / sounding : 0;
    }
}
