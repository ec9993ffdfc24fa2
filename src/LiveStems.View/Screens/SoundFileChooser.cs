using LiveStems.Albums.Import;
using LiveStems.View.Controls;

namespace LiveStems.View.Screens;

/// <summary>Chooses a sound file: folders and sound files to choose from, typing narrows them down or names a path.</summary>
internal static class SoundFileChooser
{
    private const string Up = "..";

    /// <param name="folder">Where to begin.</param>
    /// <param name="open">Shows another list in place of this one: that of a folder that was entered.</param>
    /// <param name="chosen">Takes the path of the file.</param>
    public static Chooser Create(string folder, Action<Chooser> open, Action<string> chosen)
    {
        (string[] folders, string[] files, string fault) = Read(folder);
        string[] found = [];
        return new Chooser(
            fault.Length > 0 ? $"{folder}: {fault}" : folder,
            "the name of a file or folder, or a path",
            typed => [.. (found = Find(folder, folders, files, typed)).Select(path => new ChoiceLine(NameOf(path), Directory.Exists(path) ? "folder" : string.Empty))],
            index =>
            {
                if (Directory.Exists(found[index]))
                {
                    open(Create(Path.GetFullPath(found[index]), open, chosen));
                }
                else
                {
                    chosen(found[index]);
                }
            });
    }

    private static string[] Find(string folder, string[] folders, string[] files, string typed)
    {
        string words = typed.Trim();
        string path = Path.GetFullPath(words.Length == 0 ? "." : words, folder);
        bool isPath = words.Length > 0 && (File.Exists(path) || Directory.Exists(path));
        return
        [
            .. isPath ? (string[])[path] : [],
            .. words.Length == 0 ? (string[])[Path.Combine(folder, Up)] : [],
            .. folders.Concat(files).Where(each => each != path && Path.GetFileName(each).Contains(words, StringComparison.OrdinalIgnoreCase)),
        ];
    }

    private static string NameOf(string path) => Path.GetFileName(path) == Up ? "up: the folder around this one" : Path.GetFileName(Path.TrimEndingDirectorySeparator(path));

    private static (string[] Folders, string[] Files, string Fault) Read(string folder)
    {
        try
        {
            return (
                [.. Directory.EnumerateDirectories(folder).Where(each => !Path.GetFileName(each).StartsWith('.')).Order(StringComparer.CurrentCultureIgnoreCase)],
                [.. Directory.EnumerateFiles(folder).Where(SoundFiles.IsSound).Order(StringComparer.CurrentCultureIgnoreCase)],
                string.Empty);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return ([], [], fault.Message);
        }
    }
}
