using System.Globalization;

namespace LiveStems.Engine.Hosting.Isolation;

/// <summary>Where shared memory lies while it is in use: in memory where the system has a folder for that.</summary>
internal static class LinePlaces
{
    private const string Prefix = "livestems-";
    private const string Suffix = ".line";
    private static readonly string Folder = OperatingSystem.IsLinux() && Directory.Exists("/dev/shm") ? "/dev/shm" : Path.GetTempPath();
    private static readonly Lazy<bool> Swept = new(Sweep);
    private static int last;

    /// <summary>A path that nobody has used.</summary>
    public static string Next()
    {
        _ = Swept.Value;
        return Path.Combine(Folder, $"{Prefix}{Environment.ProcessId}-{Interlocked.Increment(ref last)}-{Guid.NewGuid():N}{Suffix}");
    }

    // What programs left behind that ended without a farewell, and whose processes did too.
    private static bool Sweep()
    {
        foreach (string path in Directory.EnumerateFiles(Folder, Prefix + "*" + Suffix))
        {
            string owner = Path.GetFileName(path)[Prefix.Length..].Split('-')[0];
            if (int.TryParse(owner, NumberStyles.None, CultureInfo.InvariantCulture, out int id) && !IsRunning(id))
            {
                try
                {
                    File.Delete(path);
                }
                catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
                {
                    // Another user's.
                }
            }
        }

        return true;
    }

    private static bool IsRunning(int id)
    {
        try
        {
            using System.Diagnostics.Process process = System.Diagnostics.Process.GetProcessById(id);
            return true;
        }
        catch (ArgumentException)
        {
            return false;
        }
    }
}
