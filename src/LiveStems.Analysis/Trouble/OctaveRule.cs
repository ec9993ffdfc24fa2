namespace LiveStems.Analysis.Trouble;

/// <summary>
/// A note brings its octaves and twelfths along: how high those that come with a band stand. One that stands out as well
/// while the band does not is something else, a resonance or a drum of its own, and says nothing about the band.
/// </summary>
internal static class OctaveRule
{
    private const double ComesShare = 0.5;
    private static readonly double[] Octaves = [-Math.Log2(3), -1, 1, Math.Log2(3)];

    /// <summary>The highest of a band's octaves and twelfths, above and below, that come with it; −∞ where none does.</summary>
    /// <param name="band">The band.</param>
    /// <param name="bands">Bands there are.</param>
    /// <param name="inside">Height of a band above its trend while the band in question stands out, dB.</param>
    /// <param name="outside">The same for the time in which it does not; null when that is too short to tell.</param>
    public static double HighestDb(int band, int bands, Func<int, double> inside, Func<int, double>? outside)
    {
        double leastRise = outside is null ? 0 : ComesShare * (inside(band) - outside(band));
        double highest = double.NegativeInfinity;
        foreach (double octave in Octaves)
        {
            int middle = band + (int)Math.Round(octave * FineGrid.PerOctave);
            for (int at = Math.Max(SurplusFinder.OwnEdge, middle - 1); at <= Math.Min(bands - SurplusFinder.OwnEdge - 1, middle + 1); at++)
            {
                double height = inside(at);
                if (height > highest && (outside is null || height - outside(at) >= leastRise))
                {
                    highest = height;
                }
            }
        }

        return highest;
    }
}
