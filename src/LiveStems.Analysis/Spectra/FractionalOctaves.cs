namespace LiveStems.Analysis.Spectra;

/// <summary>
/// Fractional-octave scales: IEC 61260-1:2014, equations 1 to 5, with G = 10^(3/10) and a reference of 1 kHz.
/// </summary>
public static class FractionalOctaves
{
    /// <summary>The octave ratio of the base-ten system.</summary>
    public static readonly double OctaveRatio = Math.Pow(10, 0.3);

    private const double ReferenceHz = 1000;

    // IEC 61260-1 Annex E: nominal mid-band frequencies of one decade of third octaves.
    private static readonly double[] NominalThirds = [1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8];

    /// <summary>The bands whose mid-band frequencies lie between two frequencies.</summary>
    /// <param name="bandsPerOctave">1 to 96.</param>
    /// <param name="lowestHz">The lowest mid-band frequency wanted, above 0.</param>
    /// <param name="highestHz">The highest one; nominal frequencies such as 20 and 20 000 find their own bands.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its range.</exception>
    public static OctaveBand[] Between(int bandsPerOctave, double lowestHz, double highestHz)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(bandsPerOctave, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(bandsPerOctave, 96);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(lowestHz);
        ArgumentOutOfRangeException.ThrowIfLessThan(highestHz, lowestHz);

        // Nominal frequencies lie up to 0.8 % beside the exact ones; a fifth of a band more takes in those meant.
        int first = (int)Math.Ceiling(IndexOf(bandsPerOctave, lowestHz) - 0.2);
        int last = (int)Math.Floor(IndexOf(bandsPerOctave, highestHz) + 0.2);
        return [.. Enumerable.Range(first, Math.Max(last - first + 1, 0)).Select(index => At(bandsPerOctave, index))];
    }

    /// <summary>The bands from 20 Hz to 20 kHz that lie below half the sample rate as a whole.</summary>
    public static OctaveBand[] Audible(int bandsPerOctave, int sampleRate) =>
        [.. Between(bandsPerOctave, 20, 20_000).Where(band => band.UpperHz <= sampleRate / 2.0)];

    /// <summary>One band; index 0 lies at 1 kHz, or for an even number of bands half a band above.</summary>
    public static OctaveBand At(int bandsPerOctave, int index)
    {
        double exponent = bandsPerOctave % 2 == 1 ? (double)index / bandsPerOctave : (2 * index + 1) / (2.0 * bandsPerOctave);
        double mid = ReferenceHz * Math.Pow(OctaveRatio, exponent);
        double halfBand = Math.Pow(OctaveRatio, 1 / (2.0 * bandsPerOctave));
        return new OctaveBand(mid, mid / halfBand, mid * halfBand, Nominal(bandsPerOctave, index, mid));
    }

    private static double IndexOf(int bandsPerOctave, double frequencyHz) =>
        bandsPerOctave * Math.Log(frequencyHz / ReferenceHz) / Math.Log(OctaveRatio) - (bandsPerOctave % 2 == 1 ? 0 : 0.5);

    private static double Nominal(int bandsPerOctave, int index, double mid)
    {
        if (bandsPerOctave is 1 or 3)
        {
            int third = bandsPerOctave == 1 ? 3 * index : index;
            int decade = (int)Math.Floor(third / 10.0);
            return Math.Round(ReferenceHz * NominalThirds[third - 10 * decade] * Math.Pow(10, decade), 6);
        }

        // Annex E.3: three significant digits, two where the first is 5 or more.
        double magnitude = Math.Pow(10, Math.Floor(Math.Log10(mid)));
        int digits = mid / magnitude < 5 ? 2 : 1;
        return Math.Round(Math.Round(mid / magnitude, digits) * magnitude, 6);
    }
}
