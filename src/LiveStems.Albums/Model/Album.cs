using System.Collections.Immutable;

namespace LiveStems.Albums.Model;

/// <summary>The working folder: songs in order, delivery targets, notes.</summary>
/// <param name="Title">Title of the album.</param>
/// <param name="Artist">Who plays.</param>
/// <param name="Targets">What every song's master aims at unless the song says otherwise.</param>
/// <param name="Songs">Songs in album order.</param>
/// <param name="Notes">What the engineer wrote down about the album.</param>
public sealed record Album(
    string Title,
    string Artist,
    DeliveryTargets Targets,
    ImmutableArray<Song> Songs,
    ImmutableArray<Note> Notes)
{
    /// <summary>Fields of the file that this program does not know, kept for a round trip.</summary>
    public UnknownFields Unknown { get; init; } = UnknownFields.None;
}
