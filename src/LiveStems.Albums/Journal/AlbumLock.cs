namespace LiveStems.Albums.Journal;

/// <summary>Sees to it that an album is changed by one program at a time; goes away with the program, however it ends.</summary>
internal static class AlbumLock
{
    private const string Name = "album.lock";

    /// <summary>Takes the album; null when another has it.</summary>
    /// <exception cref="AlbumException">The folder cannot be written.</exception>
    public static FileStream? TryTake(string folder)
    {
        string path = Path.Combine(folder, Name);
        try
        {
            return new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None, 1, FileOptions.DeleteOnClose);
        }
        catch (UnauthorizedAccessException fault)
        {
            throw new AlbumException($"{folder}: the album cannot be changed, its folder is read-only: {fault.Message}", fault);
        }
        catch (IOException fault) when (fault is DirectoryNotFoundException or FileNotFoundException || !File.Exists(path))
        {
            throw new AlbumException($"{folder}: the album cannot be changed: {fault.Message}", fault);
        }
        catch (IOException)
        {
            return null;
        }
    }
}
