namespace LiveStems.Engine.Hosting;

/// <summary>Where processors of others lie, and where it is kept which of them are trusted.</summary>
/// <param name="Folder">The user's processors folder: assemblies in it, or in folders of their own one level below.</param>
/// <param name="TrustFile">The user's decisions; outside the folder, so that nothing unpacked there can trust itself.</param>
public sealed record HostingPlaces(string Folder, string TrustFile)
{
    /// <summary>What processors of others have done wrong while they played or rendered; beside the decisions.</summary>
    public string FaultFile => Path.Combine(Path.GetDirectoryName(TrustFile)!, "processor-faults.json");

    /// <summary>In the environment, another processors folder.</summary>
    public const string FolderVariable = "LIVESTEMS_PROCESSORS";

    /// <summary>In the environment, another file of decisions.</summary>
    public const string TrustVariable = "LIVESTEMS_TRUST";

    /// <summary>
    /// The user's own: <c>$XDG_DATA_HOME/livestems/processors</c> or <c>~/.local/share/livestems/processors</c> with decisions
    /// in <c>$XDG_CONFIG_HOME/livestems</c> or <c>~/.config/livestems</c> (XDG Base Directory Specification 0.8);
    /// <c>%APPDATA%\LiveStems</c>; <c>~/Library/Application Support/LiveStems</c>.
    /// </summary>
    public static HostingPlaces OfUser
    {
        get
        {
            const string Decisions = "trusted-processors.json";
            string home = Environment.GetFolderPath(Environment.SpecialFolder.UserProfile);
            string data;
            string configuration;
            if (OperatingSystem.IsWindows())
            {
                data = configuration = Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.ApplicationData), "LiveStems");
            }
            else if (OperatingSystem.IsMacOS())
            {
                data = configuration = Path.Combine(home, "Library", "Application Support", "LiveStems");
            }
            else
            {
                data = Path.Combine(Xdg("XDG_DATA_HOME", Path.Combine(home, ".local", "share")), "livestems");
                configuration = Path.Combine(Xdg("XDG_CONFIG_HOME", Path.Combine(home, ".config")), "livestems");
            }

            return new HostingPlaces(
                Named(FolderVariable) ?? Path.Combine(data, "processors"),
                Named(TrustVariable) ?? Path.Combine(configuration, Decisions));
        }
    }

    private static string? Named(string variable) =>
        Environment.GetEnvironmentVariable(variable) is { Length: > 0 } path ? Path.GetFullPath(path) : null;

    // A relative path there is to be ignored.
    private static string Xdg(string variable, string usual) =>
        Environment.GetEnvironmentVariable(variable) is { } path && Path.IsPathRooted(path) ? path : usual;
}
