namespace LiveStems.Analysis.Trouble;

/// <summary>
/// The smooth course along the peaks of a spectrum: what the strongest bands within half an octave to either side reach, a
/// band's own surroundings left out. The partials of notes make a spectrum rugged; what stands above this course stands
/// above the other partials, too.
/// </summary>
internal static class PeakTrend
{
    /// <summary>Bands to either side that count as the band's own: an eighth of an octave.</summary>
    public const int OwnBands = FineGrid.PerOctave / 8;

    /// <summary>Farthest band that counts: half an octave.</summary>
    public const int FarthestBand = FineGrid.PerOctave / 2;

    // Share of the bands of one side that lie below the course.
    private const double Share = 0.85;
    private const int Fewest = 3;

    /// <summary>Writes the course of levels in dB.</summary>
    public static void Compute(ReadOnlySpan<double> levels, Span<double> trend)
    {
        for (int band = 0; band < levels.Length; band++)
        {
            trend[band] = At(levels, band);
        }
    }

    /// <summary>The course at one band; the higher of both sides.</summary>
    public static double At(ReadOnlySpan<double> levels, int band) => Math.Max(
        Reached(levels[Math.Max(0, band - FarthestBand)..Math.Max(0, band - OwnBands)]),
        Reached(levels[Math.Min(levels.Length, band + OwnBands + 1)..Math.Min(levels.Length, band + FarthestBand + 1)]));

    /// <summary>The same from a third to five sixths of an octave away, the mean of both sides, as a level at the band.</summary>
    public static double Beyond(ReadOnlySpan<double> levels, int band)
    {
        const int Nearest = FineGrid.PerOctave / 3;
        const int Farthest = Nearest + FarthestBand - OwnBands;
        double below = Reached(levels[Math.Max(0, band - Farthest)..Math.Max(0, band - Nearest)]);
        double above = Reached(levels[Math.Min(levels.Length, band + Nearest)..Math.Min(levels.Length, band + Farthest)]);
        return double.IsInfinity(below) ? above : double.IsInfinity(above) ? below : (below + above) / 2;
    }

    private static double Reached(ReadOnlySpan<double> side)
    {
        if (side.Length < Fewest)
        {
            return double.NegativeInfinity;
        }

        Span<double> sorted = stackalloc double[FarthestBand - OwnBands];
        sorted = sorted[..side.Length];
        side.CopyTo(sorted);
        sorted.Sort();
        double place = Share * (sorted.Length - 1);
        int under = (int)place;
        return sorted[under] + (place - under) * (sorted[Math.Min(under + 1, sorted.Length - 1)] - sorted[under]);
    }
}
