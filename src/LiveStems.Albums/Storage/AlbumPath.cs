namespace LiveStems.Albums.Storage;

/// <summary>Paths as the album writes them: from the album's folder down, with '/', the same on every system.</summary>
public static class AlbumPath
{
    /// <summary>What is wrong with a path of the album, or null when it is right.</summary>
    public static string? FaultOf(string path)
    {
        if (path.Length == 0)
        {
            return "is empty; write the path of the file from the album's folder down";
        }

        if (NameRules.HasControls(path))
        {
            return "holds a control character; rename the file";
        }

        if (path.Contains('\\'))
        {
            return $"'{path}' has a backslash; write '/' between folders";
        }

        bool drive = path.Length >= 2 && char.IsAsciiLetter(path[0]) && path[1] == ':';
        if (path[0] == '/' || drive)
        {
            return $"'{path}' is an absolute path; write it from the album's folder down";
        }

        string[] parts = path.Split('/');
        if (parts.Contains(".."))
        {
            return $"'{path}' leads out of a folder; the file must lie inside the album's folder";
        }

        return parts.Any(part => part is "" or ".") ? $"'{path}' has an empty step; write it as folder/file" : null;
    }

    /// <summary>The place on disk of a path of the album.</summary>
    public static string OnDisk(string albumFolder, string path) =>
        Path.Combine(albumFolder, path.Replace('/', Path.DirectorySeparatorChar));

    /// <summary>The path as the album writes it, or null when the file lies outside the album's folder.</summary>
    public static string? FromDisk(string albumFolder, string file)
    {
        string relative = Path.GetRelativePath(Path.GetFullPath(albumFolder), Path.GetFullPath(file));
        string written = relative.Replace(Path.DirectorySeparatorChar, '/');
        return Path.IsPathRooted(relative) || written == ".." || written.StartsWith("../", StringComparison.Ordinal) ? null : written;
    }
}
