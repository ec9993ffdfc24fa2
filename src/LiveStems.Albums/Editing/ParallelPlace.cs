using LiveStems.Albums.Model;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Albums.Editing;

/// <summary>Where a parallel stands in an album.</summary>
/// <param name="SongIndex">Index of its song.</param>
/// <param name="StemIndex">Index of its stem in the song.</param>
/// <param name="ParallelIndex">Its own index under the stem.</param>
public sealed record ParallelPlace(int SongIndex, int StemIndex, int ParallelIndex)
{
    /// <summary>Its song.</summary>
    public Song Song(Album album) => album.Songs[SongIndex];

    /// <summary>Its stem.</summary>
    public Stem Stem(Album album) => Song(album).Stems[StemIndex];

    /// <summary>The parallel itself.</summary>
    public Parallel Parallel(Album album) => Stem(album).Parallels[ParallelIndex];

    /// <summary>The album with the parallel changed.</summary>
    public Album With(Album album, Func<Parallel, Parallel> change)
    {
        Stem stem = Stem(album) with { Parallels = Stem(album).Parallels.SetItem(ParallelIndex, change(Parallel(album))) };
        Song song = Song(album) with { Stems = Song(album).Stems.SetItem(StemIndex, stem) };
        return album with { Songs = album.Songs.SetItem(SongIndex, song) };
    }
}
