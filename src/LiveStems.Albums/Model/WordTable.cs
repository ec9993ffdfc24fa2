using System.Text;

namespace LiveStems.Albums.Model;

/// <summary>The words an enumeration is written with in files and commands: lower case, with hyphens ("lead-vocal").</summary>
/// <typeparam name="T">The enumeration.</typeparam>
public sealed class WordTable<T>
    where T : struct, Enum
{
    private readonly Dictionary<T, string> wordOf = [];
    private readonly Dictionary<string, T> valueOf = new(StringComparer.OrdinalIgnoreCase);

    internal WordTable()
    {
        foreach (T value in Enum.GetValues<T>())
        {
            string word = Hyphenate(value.ToString());
            wordOf.Add(value, word);
            valueOf.Add(word, value);
        }
    }

    /// <summary>Every word, in the order of the values.</summary>
    public IEnumerable<string> All => wordOf.Values;

    /// <summary>The word of a value.</summary>
    public string this[T value] => wordOf[value];

    /// <summary>The value of a word; the case of the letters does not matter.</summary>
    public bool TryFind(string word, out T value) => valueOf.TryGetValue(word.Trim(), out value);

    private static string Hyphenate(string name)
    {
        StringBuilder word = new();
        foreach (char letter in name)
        {
            if (char.IsUpper(letter) && word.Length > 0)
            {
                word.Append('-');
            }

            word.Append(char.ToLowerInvariant(letter));
        }

        return word.ToString();
    }
}
