namespace LiveStems.Albums.Model;

/// <summary>What a master aims at.</summary>
/// <param name="IntegratedLufs">Integrated loudness in LUFS (ITU-R BS.1770-5), −40 to −5; null when only the ceiling counts.</param>
/// <param name="CeilingDbtp">Highest true peak in dBTP, −20 to 0.</param>
public sealed record DeliveryTargets(double? IntegratedLufs, double CeilingDbtp)
{
    /// <summary>−14 LUFS and −1 dBTP, what most services that stream music play at (common practice).</summary>
    public static DeliveryTargets Usual { get; } =
        new(AlbumFields.IntegratedLufs.Spec.Default, AlbumFields.CeilingDbtp.Spec.Default);

    /// <summary>
    /// Smallest peak-to-loudness ratio in LU, 3 to 30: the master is made no louder than leaves this much between true peak
    /// and loudness; null when that does not count.
    /// </summary>
    public double? LeastPeakToLoudnessLu { get; init; }

    /// <summary>Fields of the file that this program does not know, kept for a round trip.</summary>
    public UnknownFields Unknown { get; init; } = UnknownFields.None;
}
