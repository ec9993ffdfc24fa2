using LiveStems.Albums;
using LiveStems.Albums.Import;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;

namespace LiveStems.Analysis.Intake;

/// <summary>What there is to check.</summary>
public static class IntakeSongs
{
    /// <summary>The songs of an album, from the files it names.</summary>
    public static IReadOnlyList<IntakeSong> Of(Album album, string albumFolder) =>
        [.. album.Songs.Select(song => new IntakeSong(song.Title, [.. Files(song, albumFolder)]))];

    /// <summary>The songs of a folder that has not been imported.</summary>
    /// <exception cref="AlbumException">There is no such folder, or no sound file in it.</exception>
    public static IReadOnlyList<IntakeSong> In(string folder) =>
        [.. DeliveredFolder.Songs(folder).Select(song => new IntakeSong(
            song.Title,
            [.. song.Files.Select(file => new IntakeFile(file.StemName ?? Path.GetFileNameWithoutExtension(file.Path), file.Path, file.StemName is null))]))];

    private static IEnumerable<IntakeFile> Files(Song song, string albumFolder)
    {
        foreach (Stem stem in song.Stems)
        {
            yield return new IntakeFile(stem.Name, AlbumPath.OnDisk(albumFolder, stem.File), false);
        }

        if (song.RoughMix is { } mix)
        {
            yield return new IntakeFile(Path.GetFileNameWithoutExtension(mix), AlbumPath.OnDisk(albumFolder, mix), true);
        }
    }
}
