namespace LiveStems.Albums.Storage;

/// <summary>Replaces a file so that at any moment the old one or the new one is there, whole.</summary>
public static class SafeFile
{
    /// <summary>What the new file is called until it is complete; one left by a crash is written over.</summary>
    public const string BesideSuffix = ".saving";

    /// <summary>Writes beside, flushes to the disk, renames. The folder must be there; a file that is there keeps its rights.</summary>
    /// <param name="path">The file; where it is a link, the file it leads to is replaced.</param>
    /// <param name="bytes">All of its new content.</param>
    /// <exception cref="IOException">The folder is missing, the disk full, another program is saving.</exception>
    /// <exception cref="UnauthorizedAccessException">The folder or the file is read-only.</exception>
    public static void Replace(string path, ReadOnlySpan<byte> bytes)
    {
        // A link stays a link: the file it leads to is replaced.
        string target = (File.Exists(path) ? File.ResolveLinkTarget(path, returnFinalTarget: true)?.FullName : null) ?? path;
        string beside = target + BesideSuffix;
        using (FileStream stream = new(beside, FileMode.Create, FileAccess.Write, FileShare.None))
        {
            try
            {
                stream.Write(bytes);
                stream.Flush(flushToDisk: true);
            }
            catch
            {
                File.Delete(beside);
                throw;
            }
        }

        try
        {
            KeepMode(target, beside);
            File.Move(beside, target, overwrite: true);
        }
        catch
        {
            File.Delete(beside);
            throw;
        }
    }

    private static void KeepMode(string from, string to)
    {
        if (!OperatingSystem.IsWindows() && File.Exists(from))
        {
            File.SetUnixFileMode(to, File.GetUnixFileMode(from));
        }
    }
}
