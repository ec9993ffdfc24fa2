namespace LiveStems.Analysis.Caching;

/// <summary>
/// Where results are kept that can be worked out again at any time: the user's cache folder per the XDG Base Directory
/// Specification on Linux, ~/Library/Caches on macOS, the local application data on Windows. The environment variable
/// LIVESTEMS_CACHE names another folder.
/// </summary>
public static class CacheFolder
{
    /// <summary>Bytes kept for renders; the ones used longest ago go first.</summary>
    public const long LargestBytes = 8L << 30;

    private const string Override = "LIVESTEMS_CACHE";

    /// <summary>The folder of one kind of results, made when missing.</summary>
    /// <param name="kind">One word: "renders".</param>
    /// <exception cref="IOException">It can't be made.</exception>
    public static string For(string kind)
    {
        string folder = Path.Combine(Root(), kind);
        Directory.CreateDirectory(folder);
        return folder;
    }

    /// <summary>Deletes the files used longest ago until the rest fit, and what killed runs left half done a day ago.</summary>
    /// <param name="folder">A folder of the cache.</param>
    /// <param name="largestBytes">What may stay.</param>
    /// <param name="mayGo">False for a file that must stay; null lets any go.</param>
    public static void Prune(string folder, long largestBytes = LargestBytes, Func<FileInfo, bool>? mayGo = null)
    {
        long total = 0;
        foreach (FileInfo file in new DirectoryInfo(folder).EnumerateFiles().OrderByDescending(file => file.LastWriteTimeUtc))
        {
            total += file.Exists ? file.Length : 0;
            bool isLeftover = file.Name.StartsWith('.') && file.LastWriteTimeUtc < DateTime.UtcNow.AddDays(-1);
            if ((total > largestBytes && (mayGo is null || mayGo(file))) || isLeftover)
            {
                TryDelete(file);
            }
        }
    }

    private static string Root()
    {
        if (Environment.GetEnvironmentVariable(Override) is { Length: > 0 } named)
        {
            return named;
        }

        string home = Environment.GetFolderPath(Environment.SpecialFolder.UserProfile);
        string caches = OperatingSystem.IsWindows() ? Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData)
            : OperatingSystem.IsMacOS() ? Path.Combine(home, "Library", "Caches")
            : Environment.GetEnvironmentVariable("XDG_CACHE_HOME") is { Length: > 0 } set ? set
            : Path.Combine(home, ".cache");
        return Path.Combine(caches, "livestems");
    }

    private static void TryDelete(FileInfo file)
    {
        try
        {
            file.Delete();
        }
        catch (IOException)
        {
            // Another run reads it; it will go another time.
        }
    }
}
