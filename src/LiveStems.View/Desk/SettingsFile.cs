using System.Text.Json;
using LiveStems.Albums.Storage;

namespace LiveStems.View.Desk;

/// <summary>
/// The settings on disk: <c>settings.json</c> in the user's own configuration folder. A file that cannot be read is set
/// aside, never a reason not to start.
/// </summary>
public sealed class SettingsFile
{
    private const string Name = "settings.json";
    private const int MostRecent = 20;

    private readonly string path;

    /// <summary>The settings in a folder.</summary>
    public SettingsFile(string folder) => path = Path.Combine(folder, Name);

    /// <summary>
    /// The user's configuration folder for this program: <c>$XDG_CONFIG_HOME/livestems</c> or <c>~/.config/livestems</c>,
    /// <c>%APPDATA%\LiveStems</c>, <c>~/Library/Application Support/LiveStems</c>.
    /// </summary>
    public static string UserFolder
    {
        get
        {
            string home = Environment.GetFolderPath(Environment.SpecialFolder.UserProfile);
            if (OperatingSystem.IsWindows())
            {
                return Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.ApplicationData), "LiveStems");
            }

            if (OperatingSystem.IsMacOS())
            {
                return Path.Combine(home, "Library", "Application Support", "LiveStems");
            }

            // A relative path there is to be ignored (XDG Base Directory Specification).
            string? wanted = Environment.GetEnvironmentVariable("XDG_CONFIG_HOME");
            return Path.Combine(Path.IsPathRooted(wanted) ? wanted : Path.Combine(home, ".config"), "livestems");
        }
    }

    /// <summary>The settings as they are on disk.</summary>
    public DeskSettings Load()
    {
        try
        {
            return File.Exists(path) ? Checked(SettingsText.Read(File.ReadAllBytes(path))) : DeskSettings.AtFirst;
        }
        catch (Exception fault) when (fault is JsonException or InvalidOperationException or FormatException)
        {
            SetAside();
            return DeskSettings.AtFirst;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return DeskSettings.AtFirst;
        }
    }

    /// <summary>Changes the settings on disk; false when they could not be written.</summary>
    public bool Change(Func<DeskSettings, DeskSettings> change)
    {
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            SafeFile.Replace(path, SettingsText.Write(change(Load())));
            return true;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }

    /// <summary>Puts an album on top of the recent ones.</summary>
    public bool Remember(string albumFolder, string title, DateTimeOffset now)
    {
        string folder = Path.GetFullPath(albumFolder);
        return Change(settings => settings with
        {
            Recent = [.. settings.Recent.Where(album => album.Folder != folder).Prepend(new RecentAlbum(folder, title, now)).Take(MostRecent)],
        });
    }

    private static DeskSettings Checked(DeskSettings? read)
    {
        if (read is null)
        {
            return DeskSettings.AtFirst;
        }

        WindowState window = read.Window;
        return read with
        {
            Window = window with
            {
                Width = Math.Clamp(window.Width, 320, 16_384),
                Height = Math.Clamp(window.Height, 240, 16_384),
                ScalePercent = window.ScalePercent == 0 ? 0 : Math.Clamp(window.ScalePercent, 100, 300),
            },
            Recent = [.. read.Recent.Where(album => album is { Folder.Length: > 0 })],
            BufferFrames = Math.Clamp(read.BufferFrames, 32, 4096),
            FullScaleDbA = read.FullScaleDbA is >= 30 and <= 180 ? read.FullScaleDbA : null,
        };
    }

    private void SetAside()
    {
        try
        {
            File.Move(path, path + ".unreadable", overwrite: true);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            // It will be written over at the next change.
        }
    }
}
