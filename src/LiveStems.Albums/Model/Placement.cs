namespace LiveStems.Albums.Model;

/// <summary>
/// Where a stem sits in its song. Polarity and alignment come before the chain; gain and pan after it, for the stem and
/// its parallels together, so that moving a level never changes what a compressor does.
/// </summary>
/// <param name="GainDb">Gain after the chain in decibels, −60 to +24.</param>
/// <param name="Pan">
/// −1 left to +1 right, after the chain. A mono stem follows the −3 dB sine/cosine law; a stereo stem is balanced: the
/// far side is turned down and the near side left alone.
/// </param>
/// <param name="Polarity">Which sides are turned over, before the chain.</param>
/// <param name="DelayFrames">
/// Delay before the chain, in frames at the song's rate, −96 000 to +96 000; negative is earlier.
/// </param>
/// <param name="Muted">True when the stem is out of the mix.</param>
/// <param name="Soloed">True when only this and other soloed stems are heard; never part of a render.</param>
public sealed record Placement(
    double GainDb,
    double Pan,
    Polarity Polarity,
    int DelayFrames,
    bool Muted,
    bool Soloed)
{
    /// <summary>As delivered.</summary>
    public static Placement AsDelivered { get; } = new(0, 0, Polarity.Normal, 0, false, false);

    /// <summary>Fields of the file that this program does not know, kept for a round trip.</summary>
    public UnknownFields Unknown { get; init; } = UnknownFields.None;
}
