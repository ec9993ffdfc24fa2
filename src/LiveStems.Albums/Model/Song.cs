using System.Collections.Immutable;

namespace LiveStems.Albums.Model;

/// <summary>Stems, the song bus with its chain, an optional rough mix.</summary>
/// <param name="Title">Title, unique in the album.</param>
/// <param name="SampleRate">Rate the song runs at in Hz, or null for the rate that most of its stems have.</param>
/// <param name="RoughMix">The mix engineer's own mix as a path relative to the album with '/', or null.</param>
/// <param name="Targets">What this song's master aims at, or null for the album's targets.</param>
/// <param name="Stems">Stems in the order they are shown.</param>
/// <param name="Bus">The chain of the song bus; its output is the master.</param>
/// <param name="Notes">What the engineer wrote down about the song.</param>
public sealed record Song(
    string Title,
    int? SampleRate,
    string? RoughMix,
    DeliveryTargets? Targets,
    ImmutableArray<Stem> Stems,
    Chain Bus,
    ImmutableArray<Note> Notes)
{
    /// <summary>Named places, in the order they were set.</summary>
    public ImmutableArray<Marker> Markers { get; init; } = [];

    /// <summary>Its International Standard Recording Code as <see cref="Model.Isrc"/> keeps it; empty for none.</summary>
    public string Isrc { get; init; } = string.Empty;

    /// <summary>How it begins, ends and joins the next on the album.</summary>
    public SongEdges Edges { get; init; } = SongEdges.Usual;

    /// <summary>Answers to findings of the intake check, one for each.</summary>
    public ImmutableArray<IntakeAnswer> Answers { get; init; } = [];

    /// <summary>Where it stands with the client.</summary>
    public SongState State { get; init; }

    /// <summary>Fields of the file that this program does not know, kept for a round trip.</summary>
    public UnknownFields Unknown { get; init; } = UnknownFields.None;
}
