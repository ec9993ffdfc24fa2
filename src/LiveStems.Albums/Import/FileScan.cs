using LiveStems.Albums.Storage;

namespace LiveStems.Albums.Import;

/// <summary>Sound files that were named one by one: stems of the songs that their folders are called after.</summary>
internal sealed class FileScan(AlbumFaults faults)
{
    /// <summary>The songs of the files, one for each folder they lie in.</summary>
    public List<SongFolder> Songs(IReadOnlyList<string> files) =>
    [
        .. files.Select(Path.GetFullPath).Distinct().Where(IsSound).GroupBy(file => Path.GetDirectoryName(file)!).Select(group => Song(group.Key, [.. group])),
    ];

    private bool IsSound(string file)
    {
        string? fault = Directory.Exists(file) ? "is a folder, not a sound file"
            : !File.Exists(file) ? "there is no such file; correct the path"
            : !SoundFiles.IsSound(file) ? "is no sound file by its name"
            : Path.GetFileName(Path.GetDirectoryName(file)) is null or "" ? "lies in no folder that could give the song its title; put it into one"
            : null;
        if (fault is not null)
        {
            faults.Add(file, fault);
        }

        return fault is null;
    }

    // What is a number in front and no part of the name shows only beside the other files and folders.
    private static SongFolder Song(string folder, HashSet<string> chosen)
    {
        List<string> folders = Beside(folder, () => Directory.GetDirectories(Path.GetDirectoryName(folder)!));
        List<string> files = Beside(chosen.First(), () => [.. Directory.GetFiles(folder).Where(SoundFiles.IsSound)]);
        string title = DeliveredName.Songs([.. folders.Select(each => Path.GetFileName(each))])[folders.IndexOf(folder)];
        return new SongFolder(folder, title, [.. files.Union(chosen).Order(NaturalOrder.Comparer)]) { Chosen = chosen };
    }

    private static List<string> Beside(string path, Func<string[]> look)
    {
        try
        {
            List<string> found = [.. look().Where(each => !FolderScan.IsHidden(each))];
            return found.Contains(path) ? found : [path];
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return [path];
        }
    }
}
