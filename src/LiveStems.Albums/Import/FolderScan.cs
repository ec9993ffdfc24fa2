using LiveStems.Albums.Storage;

namespace LiveStems.Albums.Import;

/// <summary>
/// Finds songs in folders: a folder with sound files is a song; one without is looked into for folders that are.
/// </summary>
internal sealed class FolderScan(AlbumFaults faults)
{
    // Album, disc, song: more levels than that are no delivery, and links may run in circles.
    private const int DeepestLevel = 4;

    /// <summary>What was left alone.</summary>
    public List<SkippedFile> Skipped { get; } = [];

    public static bool IsHidden(string path)
    {
        string name = Path.GetFileName(path);
        return name.StartsWith('.') || name == "__MACOSX" || (OperatingSystem.IsWindows() && File.GetAttributes(path).HasFlag(FileAttributes.Hidden));
    }

    /// <summary>The songs of folders that were named one by one, in the order they were named.</summary>
    public List<SongFolder> Songs(IReadOnlyList<string> folders)
    {
        List<string> present = [.. folders.Where(Exists)];
        return Siblings([.. present.Select(folder => Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder)))], level: 1);
    }

    private bool Exists(string folder)
    {
        if (Directory.Exists(folder))
        {
            return true;
        }

        faults.Add(folder, File.Exists(folder) ? "is a file; give the folder it lies in" : "there is no such folder; correct the path");
        return false;
    }

    private List<SongFolder> Siblings(List<string> folders, int level)
    {
        List<string> titles = DeliveredName.Songs([.. folders.Select(folder => Path.GetFileName(folder))]);
        List<SongFolder> songs = [];
        for (int i = 0; i < folders.Count; i++)
        {
            try
            {
                songs.AddRange(Within(folders[i], titles[i], level));
            }
            catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
            {
                faults.Add(folders[i], $"cannot be read: {fault.Message}");
            }
        }

        return songs;
    }

    private List<SongFolder> Within(string folder, string title, int level)
    {
        List<string> sounds = [];
        foreach (string file in Directory.GetFiles(folder).Order(NaturalOrder.Comparer))
        {
            if (IsHidden(file))
            {
                Skipped.Add(new SkippedFile(file, "hidden"));
            }
            else if (SoundFiles.IsSound(file))
            {
                sounds.Add(file);
            }
            else if (Path.GetFileName(file) != AlbumFile.Name)
            {
                Skipped.Add(new SkippedFile(file, "no sound file"));
            }
        }

        List<string> below = [.. Directory.GetDirectories(folder).Order(NaturalOrder.Comparer)];
        Skip(below.Where(IsHidden), "hidden");
        below.RemoveAll(IsHidden);
        if (sounds.Count > 0)
        {
            Skip(below, "folder inside the folder of a song");
            return [new SongFolder(folder, title, sounds)];
        }

        if (level < DeepestLevel)
        {
            return Siblings(below, level + 1);
        }

        Skip(below, "too deep");
        return [];
    }

    private void Skip(IEnumerable<string> paths, string reason) => Skipped.AddRange(paths.Select(path => new SkippedFile(path, reason)));
}
