using LiveStems.Albums;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Parallels;

namespace LiveStems.View.Desk;

/// <summary>The blend that was found for a parallel, set where that parallel is by then.</summary>
internal static class FoundBlend
{
    /// <summary>
    /// The album with the blend set and the parallel in the mix. It may have been changed while the blend was sought: the song
    /// is followed to its place, the stem to its name, and nothing else is touched.
    /// </summary>
    /// <param name="album">The album as it is.</param>
    /// <param name="before">The album as it was when the search began.</param>
    /// <param name="song">Index of the song in it.</param>
    /// <param name="found">What was found.</param>
    /// <exception cref="AlbumException">The parallel is gone.</exception>
    public static Album Set(Album album, Album before, int song, BlendReport found)
    {
        Song was = before.Songs[song];
        return SongPlaces.After(before, album)[song] is { } place
            && SongPlaces.StemAfter(was, album.Songs[place], found.Stem) is { } stem
            && Set(album.Songs[place], stem, found) is { } blended
            ? ReferenceEquals(blended, album.Songs[place]) ? album : album with { Songs = album.Songs.SetItem(place, blended) }
            : throw new AlbumException($"the blend of '{found.Stem}, {found.Parallel}' in '{was.Title}' was found, but the parallel is gone meanwhile: nothing is set");
    }

    /// <summary>A song with the blend set and the parallel in the mix; the song itself where it is so, null where it has no such parallel.</summary>
    /// <param name="song">The song.</param>
    /// <param name="stem">What the stem is called in it.</param>
    /// <param name="found">What was found.</param>
    public static Song? Set(Song song, string stem, BlendReport found)
    {
        int stemAt = song.Stems.ToList().FindIndex(each => each.Name == stem);
        int parallelAt = stemAt < 0 ? -1 : song.Stems[stemAt].Parallels.ToList().FindIndex(each => each.Name == found.Parallel);
        if (parallelAt < 0)
        {
            return null;
        }

        Stem fed = song.Stems[stemAt];
        LiveStems.Albums.Model.Parallel path = fed.Parallels[parallelAt];
        return path.BlendDb == found.BlendDb && !path.Muted ? song : song with
        {
            Stems = song.Stems.SetItem(stemAt, fed with { Parallels = fed.Parallels.SetItem(parallelAt, path with { BlendDb = found.BlendDb, Muted = false }) }),
        };
    }
}
