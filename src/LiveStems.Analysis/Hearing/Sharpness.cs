namespace LiveStems.Analysis.Hearing;

/// <summary>
/// Sharpness, DIN 45692:2009: the centre of gravity of specific loudness over critical-band rate, in which what lies above
/// 15.8 Bark (some 3 kHz) weighs more and more. 1 acum is critical-band noise at 1 kHz of 60 dB.
/// </summary>
public static class Sharpness
{
    // The standard's usual value: with it the narrow-band sounds of the standard, through third-octave filters, read within 5 %.
    internal const double Scale = 0.11;

    private const double FlatToBark = 15.8;

    /// <summary>The weighting g(z) of the standard: 1 up to 15.8 Bark, 1.73 at 20, 5.5 at 24.</summary>
    public static double Weight(double bark) =>
        bark <= FlatToBark ? 1 : 0.15 * Math.Exp(0.42 * (bark - FlatToBark)) + 0.85;

    /// <summary>Sharpness in acum of a pattern of specific loudness; 0 for silence.</summary>
    public static double OfPattern(SpecificLoudness loudness)
    {
        double weighted = 0;
        double plain = 0;
        ReadOnlySpan<double> soneAtBark = loudness.SonePerBark;
        for (int step = 0; step < soneAtBark.Length; step++)
        {
            double bark = SpecificLoudness.BarkOf(step);
            weighted += soneAtBark[step] * Weight(bark) * bark;
            plain += soneAtBark[step];
        }

        return plain > 0 ? Scale * weighted / plain : 0;
    }
}
