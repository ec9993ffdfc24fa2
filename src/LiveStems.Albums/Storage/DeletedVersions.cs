using LiveStems.Albums.Editing;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.Storage;

/// <summary>Versions that were deleted: they lie in the folder <c>deleted</c> among the versions, from where they can be brought back.</summary>
public static class DeletedVersions
{
    /// <summary>Folder of the deleted versions in that of the versions.</summary>
    public const string FolderName = "deleted";

    /// <summary>All of them, in the order they were deleted.</summary>
    /// <exception cref="AlbumException">A file in the folder cannot be read or is no version.</exception>
    public static IReadOnlyList<AlbumVersion> List(string albumFolderOrFile, ProcessorCatalogue catalogue) =>
        [.. Files(albumFolderOrFile, catalogue).Select(file => file.Version)];

    /// <summary>Brings a version back among the others; where its name has been given to another, a number is added to it.</summary>
    /// <param name="name">Its name, or a beginning of it that no other has.</param>
    /// <param name="albumFolderOrFile">The album.</param>
    /// <param name="catalogue">The processors there are.</param>
    /// <param name="savedAt">When it was taken; null for the one that was deleted last, where several had that name.</param>
    /// <exception cref="AlbumException">There is no such version, or it cannot be moved.</exception>
    public static AlbumVersion BringBack(string name, string albumFolderOrFile, ProcessorCatalogue catalogue, DateTimeOffset? savedAt = null)
    {
        (string path, AlbumVersion version) = Find(name, [.. Files(albumFolderOrFile, catalogue).Where(file => savedAt is null || file.Version.SavedAt == savedAt)]);
        string folder = AlbumVersions.FolderOf(albumFolderOrFile);
        string free = FreeName(version.Name, AlbumVersions.List(albumFolderOrFile, catalogue));
        try
        {
            if (free == version.Name)
            {
                File.Move(path, AlbumVersions.FreePath(folder, free));
                return version;
            }

            AlbumVersion renamed = version with { Name = free };
            AlbumVersions.Write(renamed, folder, catalogue);
            File.Delete(path);
            return renamed;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new AlbumException($"{folder}: the version '{version.Name}' could not be brought back: {fault.Message}", fault);
        }
    }

    /// <summary>Puts the file of a version aside.</summary>
    /// <exception cref="IOException">It cannot be moved.</exception>
    internal static void PutAside(string path)
    {
        string folder = Path.Combine(Path.GetDirectoryName(path)!, FolderName);
        Directory.CreateDirectory(folder);
        string target = AlbumVersions.FreePath(folder, Path.GetFileNameWithoutExtension(path));
        File.Move(path, target);

        // Nothing is written into a version after it was taken: the time of its file tells when it was deleted.
        File.SetLastWriteTimeUtc(target, DateTime.UtcNow);
    }

    private static List<(string Path, AlbumVersion Version)> Files(string albumFolderOrFile, ProcessorCatalogue catalogue)
    {
        string folder = Path.Combine(AlbumVersions.FolderOf(albumFolderOrFile), FolderName);
        return Directory.Exists(folder)
            ? [.. Directory.EnumerateFiles(folder, "*.json").OrderBy(File.GetLastWriteTimeUtc).Select(path => (path, AlbumVersions.Read(path, catalogue)))]
            : [];
    }

    private static (string Path, AlbumVersion Version) Find(string name, List<(string Path, AlbumVersion Version)> files)
    {
        if (files.Count == 0)
        {
            throw new AlbumException("no version of the album was deleted, so none can be brought back");
        }

        string[] names = [.. files.Select(file => file.Version.Name).Distinct()];
        string found = names[NameSearch.Find("deleted version", names, name.Trim())];
        return files.Last(file => file.Version.Name == found);
    }

    private static string FreeName(string name, IReadOnlyList<AlbumVersion> versions)
    {
        string free = name;
        for (int number = 2; versions.Any(version => version.Name.Equals(free, StringComparison.OrdinalIgnoreCase)); number++)
        {
            free = $"{name} {number}";
        }

        return free;
    }
}
