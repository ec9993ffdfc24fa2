using System.Collections.Immutable;

namespace LiveStems.Albums.Model;

/// <summary>The ordered processors of a stem, parallel or song bus.</summary>
/// <param name="Bypassed">True when the sound passes by the whole chain.</param>
/// <param name="Slots">The processors in the order the sound passes them.</param>
public sealed record Chain(bool Bypassed, ImmutableArray<ChainSlot> Slots)
{
    /// <summary>A chain without processors.</summary>
    public static Chain Empty { get; } = new(false, []);

    /// <summary>Fields of the file that this program does not know, kept for a round trip.</summary>
    public UnknownFields Unknown { get; init; } = UnknownFields.None;
}
