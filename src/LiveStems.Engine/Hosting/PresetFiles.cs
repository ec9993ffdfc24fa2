using LiveStems.Albums;
using LiveStems.Albums.Editing;

namespace LiveStems.Engine.Hosting;

/// <summary>
/// Where presets lie: those of the program, and those of outside processors beside them, in a folder <c>presets</c> of the
/// processors folder or of a folder in it.
/// </summary>
public static class PresetFiles
{
    private const string Name = "presets";

    /// <summary>Full paths, those of the program first.</summary>
    public static IEnumerable<string> All(HostingPlaces places) =>
        In(Path.Combine(AppContext.BaseDirectory, Name)).Concat(Outside(places));

    /// <summary>Full paths of those that lie beside outside processors.</summary>
    public static IEnumerable<string> Outside(HostingPlaces places)
    {
        try
        {
            return Directory.Exists(places.Folder)
                ? In(Path.Combine(places.Folder, Name)).Concat(Directory.EnumerateDirectories(places.Folder).Order(StringComparer.Ordinal).SelectMany(folder => In(Path.Combine(folder, Name)))).ToArray()
                : [];
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return [];
        }
    }

    /// <summary>The preset of a file, or null where it is none.</summary>
    public static ChainPreset? TryLoad(string path)
    {
        try
        {
            return ChainPreset.Load(path);
        }
        catch (AlbumException)
        {
            return null;
        }
    }

    private static string[] In(string folder) =>
        Directory.Exists(folder) ? [.. Directory.EnumerateFiles(folder, "*.json").Order(StringComparer.Ordinal)] : [];
}
