using System.Globalization;

namespace LiveStems.Albums.Editing;

/// <summary>Finds one of several things by its name, its number from 1, or a beginning of its name that no other has.</summary>
internal static class NameSearch
{
    private const int MostListed = 12;

    /// <summary>Index of what is meant.</summary>
    /// <exception cref="AlbumException">Nothing or more than one fits; the message names what there is.</exception>
    public static int Find(string kind, IReadOnlyList<string> names, string written)
    {
        for (int i = 0; i < names.Count; i++)
        {
            if (names[i].Equals(written, StringComparison.OrdinalIgnoreCase))
            {
                return i;
            }
        }

        if (int.TryParse(written, NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number >= 1 && number <= names.Count)
        {
            return number - 1;
        }

        List<int> beginning = [.. Enumerable.Range(0, names.Count).Where(i => Begins(names[i], written))];
        return beginning.Count switch
        {
            1 => beginning[0],
            0 => throw new AlbumException($"there is no {kind} '{written}'{Others(kind, names, written)}"),
            _ => throw new AlbumException($"'{written}' could be {string.Join(" or ", beginning.Take(MostListed).Select(i => names[i]))}; write more of the {kind}'s name"),
        };
    }

    private static bool Begins(string name, string written) =>
        written.Length > 0 && name.StartsWith(written, StringComparison.OrdinalIgnoreCase);

    private static string Others(string kind, IReadOnlyList<string> names, string written)
    {
        string hint = NearMatch.Hint(written, names);
        if (hint.Length > 0)
        {
            return hint;
        }

        string more = names.Count > MostListed ? ", …" : string.Empty;
        return names.Count == 0 ? $"; there is no {kind} at all" : $"; there is {string.Join(", ", names.Take(MostListed))}{more}";
    }
}
