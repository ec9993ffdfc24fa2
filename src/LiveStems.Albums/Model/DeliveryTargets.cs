namespace LiveStems.Albums.Model;

/// <summary>What a master aims at.</summary>
/// <param name="IntegratedLufs">Integrated loudness in LUFS (ITU-R BS.1770-5), −40 to −5; null when only the ceiling counts.</param>
/// <param name="CeilingDbtp">Highest true peak in dBTP, −20 to 0.</param>
public sealed record DeliveryTargets(double? IntegratedLufs, double CeilingDbtp)
{
    /// <summary>Fields of the file that this program does not know, kept for a round trip.</summary>
    public UnknownFields Unknown { get; init; } = UnknownFields.None;
}
