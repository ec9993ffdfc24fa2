namespace LiveStems.Dsp.Loudness;

/// <summary>Between K-weighted mean square and loudness (BS.1770-5 equation 2).</summary>
internal static class LoudnessScale
{
    /// <summary>Loudness in LUFS below which nothing counts (BS.1770-5 Annex 1, EBU Tech 3342).</summary>
    public const double AbsoluteGateLufs = -70;

    private const double OffsetDb = -0.691;

    /// <summary>Loudness in LUFS of a weighted sum of mean squares; −∞ for 0.</summary>
    public static double ToLufs(double meanSquare) => OffsetDb + Decibels.FromPower(meanSquare);

    /// <summary>Weighted sum of mean squares of a loudness in LUFS.</summary>
    public static double ToMeanSquare(double lufs) => Decibels.ToPower(lufs - OffsetDb);
}
