using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Trouble;

/// <summary>What the search takes as given.</summary>
/// <param name="Role">What the stem plays; some kinds are looked for in some roles only.</param>
/// <param name="ListeningLevelDb">Sound pressure level, dB, at which pink noise of −20 dBFS RMS is heard: how the monitor is set.</param>
/// <param name="SensitivityDb">Raises (below 0) or lowers what is let pass, dB, −3 to +6.</param>
public sealed record TroubleSettings(StemRole Role, double ListeningLevelDb = 75, double SensitivityDb = 0)
{
    /// <summary>RMS level that plays at the listening level.</summary>
    public const double ReferenceDbfs = -20;

    /// <summary>Sound pressure level of a mean square, dB.</summary>
    internal double SplOf(double meanSquareDb) => meanSquareDb - ReferenceDbfs + ListeningLevelDb;
}
