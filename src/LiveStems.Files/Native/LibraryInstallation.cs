namespace LiveStems.Files.Native;

/// <summary>How libsndfile is installed on this system.</summary>
internal static class LibraryInstallation
{
    private const string OsRelease = "/etc/os-release";

    /// <summary>The fault of a file of a kind that only the library reads.</summary>
    internal static string Needed(string kind, string advice) =>
        $"is {kind}, which needs libsndfile: {advice}, or convert the file to WAV";

    /// <summary>What to do, as the middle of a sentence.</summary>
    internal static string Advice()
    {
        if (OperatingSystem.IsWindows())
        {
            return "put sndfile.dll of libsndfile.github.io/libsndfile beside this program";
        }

        if (OperatingSystem.IsMacOS())
        {
            return "brew install libsndfile";
        }

        try
        {
            return OnLinux(File.Exists(OsRelease) ? File.ReadAllLines(OsRelease) : []);
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
        {
            return OnLinux([]);
        }
    }

    /// <summary>The command of a Linux system by the ID and ID_LIKE lines of its os-release file.</summary>
    internal static string OnLinux(IEnumerable<string> osRelease)
    {
        string families = string.Join(' ', osRelease
            .Where(line => line.StartsWith("ID=", StringComparison.Ordinal) || line.StartsWith("ID_LIKE=", StringComparison.Ordinal))
            .Select(line => line[(line.IndexOf('=') + 1)..].Trim('"', '\'')));
        return families.Split(' ').Select(Command).FirstOrDefault(command => command is not null) ?? "install the package libsndfile";
    }

    private static string? Command(string family) => family switch
    {
        "debian" or "ubuntu" => "apt-get install libsndfile1",
        "fedora" or "rhel" or "centos" => "dnf install libsndfile",
        "suse" or "opensuse" => "zypper install libsndfile1",
        "arch" => "pacman -S libsndfile",
        "alpine" => "apk add libsndfile",
        _ => null,
    };
}
