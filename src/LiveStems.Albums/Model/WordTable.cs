using System.Text;

namespace LiveStems.Albums.Model;

/// <summary>The words an enumeration is written with in files and commands: lower case, with hyphens ("lead-vocal").</summary>
/// <typeparam name="T">The enumeration.</typeparam>
public sealed class WordTable<T>
    where T : struct, Enum
{
    private readonly T[] values = Enum.GetValues<T>();
    private readonly string[] words;

    internal WordTable()
    {
        words = new string[values.Length];
        for (int i = 0; i < words.Length; i++)
        {
            words[i] = Hyphenate(values[i].ToString());
        }
    }

    /// <summary>Every word, in the order of the values.</summary>
    public IEnumerable<string> All => words;

    /// <summary>The word of a value.</summary>
    public string this[T value] => words[Array.IndexOf(values, value)];

    /// <summary>The value of a word; the case of the letters does not matter.</summary>
    public bool TryFind(string word, out T value)
    {
        ReadOnlySpan<char> wanted = word.AsSpan().Trim();
        for (int i = 0; i < words.Length; i++)
        {
            if (wanted.Equals(words[i], StringComparison.OrdinalIgnoreCase))
            {
                value = values[i];
                return true;
            }
        }

        value = default;
        return false;
    }

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
