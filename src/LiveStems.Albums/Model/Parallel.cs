namespace LiveStems.Albums.Model;

/// <summary>A supplementary path fed by a stem, tucked under the dry stem on the song bus.</summary>
/// <param name="Name">Name, unique under its stem.</param>
/// <param name="AfterChain">True when the path is fed by the output of the stem's chain, false by its input.</param>
/// <param name="BlendDb">Level on the song bus relative to the stem in decibels, −60 to +12.</param>
/// <param name="Muted">True when the path is out of the mix.</param>
/// <param name="Chain">The processors of the path.</param>
public sealed record Parallel(string Name, bool AfterChain, double BlendDb, bool Muted, Chain Chain)
{
    /// <summary>
    /// Frames at the song's rate, fractions too, by which the path comes later than its latency alone would have it, −4800
    /// to +4800; negative is earlier. On top of all latencies, which are made up for anyway.
    /// </summary>
    public double AlignSamples { get; init; }

    /// <summary>
    /// True when the equalisers of the stem's chain, as they are set there, come first in the path; for a path that is fed
    /// before the stem's chain.
    /// </summary>
    public bool IsEqualiserLinked { get; init; }

    /// <summary>Fields of the file that this program does not know, kept for a round trip.</summary>
    public UnknownFields Unknown { get; init; } = UnknownFields.None;
}
