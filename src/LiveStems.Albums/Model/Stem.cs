using System.Collections.Immutable;

namespace LiveStems.Albums.Model;

/// <summary>One delivered file with its place in the mix and its chain.</summary>
/// <param name="Name">Name, unique in the song.</param>
/// <param name="File">Path relative to the album, with '/'.</param>
/// <param name="Sha256">SHA-256 of the file as delivered, 64 lower-case hexadecimal digits; empty when not yet taken.</param>
/// <param name="Role">What it plays in the song.</param>
/// <param name="Placement">Level, position and alignment.</param>
/// <param name="Chain">The processors of the stem.</param>
/// <param name="Parallels">Supplementary paths fed by this stem.</param>
/// <param name="Notes">What the engineer wrote down about the stem.</param>
public sealed record Stem(
    string Name,
    string File,
    string Sha256,
    StemRole Role,
    Placement Placement,
    Chain Chain,
    ImmutableArray<Parallel> Parallels,
    ImmutableArray<Note> Notes)
{
    /// <summary>True while only the parallels of the stem are heard; for listening, never stored.</summary>
    public bool IsDryOut { get; init; }

    /// <summary>Fields of the file that this program does not know, kept for a round trip.</summary>
    public UnknownFields Unknown { get; init; } = UnknownFields.None;
}
