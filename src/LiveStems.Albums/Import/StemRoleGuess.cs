using LiveStems.Albums.Model;

namespace LiveStems.Albums.Import;

/// <summary>
/// Guesses what a stem plays from what its file is called. Of all that fits, what is said in more words wins ("bass drum"
/// over "bass"), then what is longer, then what stands last, where English puts the thing itself.
/// </summary>
public static class StemRoleGuess
{
    private const int MostWords = 3;

    private static readonly Dictionary<string, (StemRole Role, int Words)> Phrases = Joined();

    /// <summary>The role, or <see cref="StemRole.Other"/> when the name says nothing.</summary>
    /// <param name="name">A file name without its extension, or the name of a stem.</param>
    public static StemRole From(string name)
    {
        List<string> words = NameWords.Of(name);
        StemRole best = StemRole.Other;
        (int Words, int Letters) bestRank = (0, 0);
        for (int start = 0; start < words.Count; start++)
        {
            for (int count = 1; count <= MostWords && start + count <= words.Count; count++)
            {
                // Written together or apart is the same: "LeadVox", "lead vox", "leadvox".
                string joined = string.Concat(words.Skip(start).Take(count));
                if (Find(joined) is { } found && (found.Words, joined.Length).CompareTo(bestRank) >= 0)
                {
                    best = found.Role;
                    bestRank = (found.Words, joined.Length);
                }
            }
        }

        return best;
    }

    private static (StemRole Role, int Words)? Find(string joined)
    {
        if (Phrases.TryGetValue(joined, out var found) || (joined.EndsWith('s') && Phrases.TryGetValue(joined[..^1], out found)))
        {
            return found;
        }

        return null;
    }

    private static Dictionary<string, (StemRole Role, int Words)> Joined()
    {
        Dictionary<string, (StemRole Role, int Words)> phrases = new(StringComparer.Ordinal);
        foreach ((StemRole role, string[] names) in RoleWords.Table)
        {
            foreach (string name in names)
            {
                string[] words = name.Split(' ');
                phrases.Add(string.Concat(words), (role, words.Length));
            }
        }

        return phrases;
    }
}
