namespace LiveStems.Albums.Import;

/// <summary>The words of a file name: parted at signs, at changes between letters and digits, and at capitals.</summary>
internal static class NameWords
{
    /// <summary>The words in lower case: "03_LeadVox-DBL" gives 03, lead, vox, dbl.</summary>
    public static List<string> Of(string name)
    {
        List<string> words = [];
        int start = 0;
        for (int i = 0; i <= name.Length; i++)
        {
            if (i == name.Length || !char.IsLetterOrDigit(name[i]))
            {
                Add(words, name, start, i);
                start = i + 1;
            }
            else if (i > start && IsBoundary(name, i))
            {
                Add(words, name, start, i);
                start = i;
            }
        }

        return words;
    }

    private static bool IsBoundary(string name, int index)
    {
        char before = name[index - 1];
        char here = name[index];
        bool capital = char.IsLower(before) && char.IsUpper(here);

        // The last capital of a row belongs to the word behind it: "BGVox" is BG and Vox.
        bool endOfCapitals = char.IsUpper(before) && char.IsUpper(here) && index + 1 < name.Length && char.IsLower(name[index + 1]) && name[index + 1] != 's';
        return char.IsDigit(before) != char.IsDigit(here) || capital || endOfCapitals;
    }

    private static void Add(List<string> words, string name, int start, int end)
    {
        if (end > start)
        {
            words.Add(name[start..end].ToLowerInvariant());
        }
    }
}
