namespace LiveStems.Engine.Hosting;

/// <summary>What the processors folder and the user's decisions look like from outside: another text when anything has changed.</summary>
internal static class FolderSignature
{
    /// <summary>Names, lengths and times of all assemblies, and of the decisions.</summary>
    public static string Of(HostingPlaces places)
    {
        try
        {
            IEnumerable<FileInfo> files = Directory.Exists(places.Folder)
                ? new DirectoryInfo(places.Folder).EnumerateFiles("*.dll", new EnumerationOptions { RecurseSubdirectories = true, MaxRecursionDepth = 1 })
                : [];
            return string.Join('\n', files.Append(new FileInfo(places.TrustFile)).Where(file => file.Exists).Select(file => $"{file.FullName} {file.Length} {file.LastWriteTimeUtc.Ticks}").Order(StringComparer.Ordinal));
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return string.Empty;
        }
    }
}
