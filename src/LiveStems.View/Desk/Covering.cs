using LiveStems.Analysis.Masking;

namespace LiveStems.View.Desk;

/// <summary>One stem covered by another, band by band.</summary>
/// <param name="Map">The map it is from.</param>
/// <param name="Covered">Name of the stem that is covered.</param>
/// <param name="By">Name of the stem that covers it.</param>
public sealed record Covering(MaskingMap Map, string Covered, string By)
{
    /// <summary>Share of all that the covered stem plays, 0 to 1.</summary>
    public double Share => Map.PairShare[CoveredIndex][ByIndex];

    /// <summary>By band of the map: share of the time the covered stem sounds there in which this other covers it.</summary>
    public IReadOnlyList<double> ByBand => Map.PairBandShare[CoveredIndex][ByIndex];

    /// <summary>By band of the map: share in which all others together cover it.</summary>
    public IReadOnlyList<double> ByBandOfAll => Map.CoveredShare[CoveredIndex];

    private int CoveredIndex => Map.Stems.IndexOf(Covered);

    private int ByIndex => Map.Stems.IndexOf(By);

    /// <summary>Whoever covers a stem, who does so most first; none for a stem that the map does not know.</summary>
    public static IReadOnlyList<Covering> OfStem(MaskingMap map, string stem) => !map.Stems.Contains(stem) ? [] :
        [.. map.Stems.Where(other => other != stem).Select(other => new Covering(map, stem, other)).Where(each => each.Share > 0).OrderByDescending(each => each.Share)];
}
