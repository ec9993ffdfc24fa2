using LiveStems.Albums.Storage;

namespace LiveStems.Albums.Import;

/// <summary>A file of a delivery as an import would take it.</summary>
/// <param name="Path">Where it lies.</param>
/// <param name="StemName">Name of the stem; null for a rough mix.</param>
public sealed record DeliveredFile(string Path, string? StemName);

/// <summary>A song of a delivery as an import would take it.</summary>
/// <param name="Title">Its title.</param>
/// <param name="Files">Its files in order.</param>
public sealed record DeliveredSong(string Title, IReadOnlyList<DeliveredFile> Files);

/// <summary>Looks at folders as an import would, and imports nothing.</summary>
public static class DeliveredFolder
{
    /// <summary>The songs of a folder: its own sound files, or the folders in it that have some.</summary>
    /// <exception cref="AlbumException">There is no such folder, it cannot be read, or there is no sound file in it.</exception>
    public static IReadOnlyList<DeliveredSong> Songs(string folder)
    {
        AlbumFaults faults = new();
        List<DeliveredSong> songs = [];
        foreach (SongFolder song in new FolderScan(faults).Songs([folder]))
        {
            List<string> names = DeliveredName.Stems([.. song.Files.Select(file => Path.GetFileNameWithoutExtension(file))], song.Title);
            songs.Add(new DeliveredSong(song.Title, [.. song.Files.Zip(names, (file, name) => new DeliveredFile(file, DeliveredName.IsRoughMix(name) ? null : name))]));
        }

        if (songs.Count == 0 && faults.Count == 0)
        {
            faults.Add(string.Empty, $"there are no sound files in {folder}");
        }

        return faults.Count == 0 ? songs : throw new AlbumException(folder, faults, "give an album, a folder of stems, or a folder of such folders");
    }
}
