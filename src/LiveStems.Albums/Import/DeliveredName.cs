namespace LiveStems.Albums.Import;

/// <summary>From what files are called to what songs and stems are called.</summary>
internal static class DeliveredName
{
    private static readonly HashSet<string> RoughMixes =
    [
        "rough", "roughmix", "mix", "refmix", "referencemix", "reference", "ref", "mixdown", "fullmix", "stereomix", "mixref", "mixreference", "roughmixdown", "monitormix",
    ];

    /// <summary>Names of songs by the names of their folders, which are siblings.</summary>
    public static List<string> Songs(IReadOnlyList<string> folders) =>
        [.. TrackNumber.Stripped(folders).Select(Readable)];

    /// <summary>Names of stems by the names of a song's files without extension; the song's title in front goes too.</summary>
    public static List<string> Stems(IReadOnlyList<string> files, string songTitle)
    {
        List<string> names = TrackNumber.Stripped(files);
        List<string> withoutTitle = [.. names.Select(name => WithoutTitle(Readable(name), songTitle))];
        return [.. TrackNumber.Stripped(withoutTitle)];
    }

    /// <summary>True for what a mix engineer calls the mix itself, with or without the number of its version.</summary>
    public static bool IsRoughMix(string name)
    {
        List<string> words = NameWords.Of(name);
        while (words.Count > 1 && (words[^1] is "v" or "version" || words[^1].All(char.IsDigit)))
        {
            words.RemoveAt(words.Count - 1);
        }

        return RoughMixes.Contains(string.Concat(words));
    }

    /// <summary>A name that every file system takes.</summary>
    public static string OnDisk(string name)
    {
        string safe = string.Concat(name.Select(letter => char.IsControl(letter) || "<>:\"/\\|?*".Contains(letter) ? '-' : letter));
        safe = safe.TrimEnd('.', ' ').TrimStart('.', ' ');
        return safe.Length == 0 ? "-" : safe;
    }

    private static string Readable(string name) =>
        string.Join(' ', name.Replace('_', ' ').Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    private static string WithoutTitle(string name, string title)
    {
        if (!name.StartsWith(title, StringComparison.OrdinalIgnoreCase) || name.Length == title.Length || char.IsLetterOrDigit(name[title.Length]))
        {
            return name;
        }

        string rest = name[title.Length..].Trim(' ', '-', '–', '.', ',', '(', ')', '[', ']');
        return rest.Length > 0 ? rest : name;
    }
}
