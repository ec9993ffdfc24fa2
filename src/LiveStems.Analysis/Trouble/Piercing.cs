using LiveStems.Analysis.Hearing;

namespace LiveStems.Analysis.Trouble;

/// <summary>
/// How much a surplus hurts: the loudness it adds, by the equal-loudness contours at the listening level, times the weight
/// that sharpness gives its place (DIN 45692).
/// </summary>
internal static class Piercing
{
    /// <summary>Sone of a band with the surplus, less sone of the band without it, times the sharpness weight.</summary>
    /// <param name="levelDb">Sound pressure level of the band, dB, as it is.</param>
    /// <param name="surplusDb">How much of that is surplus, dB.</param>
    /// <param name="centreHz">Where it is.</param>
    public static double Sone(double levelDb, double surplusDb, double centreHz)
    {
        double with = EqualLoudness.Sone(EqualLoudness.Phon(levelDb, centreHz));
        double without = EqualLoudness.Sone(EqualLoudness.Phon(levelDb - surplusDb, centreHz));
        return (with - without) * Sharpness.Weight(BarkScale.FromHz(centreHz));
    }
}
