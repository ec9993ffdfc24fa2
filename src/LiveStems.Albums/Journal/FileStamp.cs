namespace LiveStems.Albums.Journal;

/// <summary>Tells whether a file is still the one that was read or written last.</summary>
internal readonly record struct FileStamp(long Length, DateTime WrittenUtc)
{
    public static FileStamp Of(string path)
    {
        FileInfo info = new(path);
        return info.Exists ? new FileStamp(info.Length, info.LastWriteTimeUtc) : default;
    }
}
