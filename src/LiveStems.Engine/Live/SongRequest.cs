using LiveStems.Albums.Model;
using LiveStems.Engine.Comparing;

namespace LiveStems.Engine.Live;

/// <summary>What a player is asked to play.</summary>
/// <param name="Song">The song.</param>
/// <param name="Folder">The folder that its paths are relative to.</param>
/// <param name="Songs">Both sides of what is compared in it, or the song alone.</param>
internal sealed record SongRequest(Song Song, string Folder, ComparedSongs Songs)
{
    /// <exception cref="ComparisonException">There is nothing to compare in the song.</exception>
    public static SongRequest For(Song song, string folder, Comparison? comparison) =>
        new(song, folder, comparison?.Of(song) ?? ComparedSongs.Only(song));

    /// <summary>True when another request is for this song, changed or not: then it plays on from where it is.</summary>
    public bool IsSameSong(SongRequest other) => Folder == other.Folder && Song.Title == other.Song.Title;
}
