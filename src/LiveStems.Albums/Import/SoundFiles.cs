namespace LiveStems.Albums.Import;

/// <summary>Which files are sound files, by their names.</summary>
public static class SoundFiles
{
    private static readonly HashSet<string> Extensions = new(StringComparer.OrdinalIgnoreCase)
    {
        ".wav", ".wave", ".bwf", ".rf64", ".w64", ".aif", ".aiff", ".aifc", ".flac", ".caf", ".au", ".snd", ".ogg", ".oga", ".opus", ".mp3", ".m4a", ".aac", ".wma",
    };

    /// <summary>True when the name of a file ends as those of sound files do.</summary>
    public static bool IsSound(string path) => Extensions.Contains(Path.GetExtension(path));
}
