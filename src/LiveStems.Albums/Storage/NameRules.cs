using System.Buffers;

namespace LiveStems.Albums.Storage;

/// <summary>What a title, name or text may be.</summary>
internal static class NameRules
{
    private static readonly SearchValues<char> Hexadecimal = SearchValues.Create("0123456789abcdef");

    /// <summary>True when a text holds line ends, tabs or the like (Unicode class Cc).</summary>
    public static bool HasControls(string text) =>
        text.AsSpan().ContainsAnyInRange('\u0000', '\u001f') || text.AsSpan().ContainsAnyInRange('\u007f', '\u009f');

    /// <summary>What is wrong with a title or name, or null.</summary>
    public static string? FaultOfName(string name)
    {
        if (string.IsNullOrWhiteSpace(name))
        {
            return "must not be empty";
        }

        if (name != name.Trim())
        {
            return $"'{name}' starts or ends with a space; remove it";
        }

        return HasControls(name) ? "holds a line end or another control character; remove it" : FaultOfText(name);
    }

    /// <summary>What is wrong with a text, or null; files are UTF-8, which has no half characters.</summary>
    public static string? FaultOfText(string text)
    {
        int first = text.AsSpan().IndexOfAnyInRange('\ud800', '\udfff');
        for (int i = Math.Max(first, 0); first >= 0 && i < text.Length; i++)
        {
            bool pair = char.IsHighSurrogate(text[i]) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1]);
            if (pair)
            {
                i++;
            }
            else if (char.IsSurrogate(text[i]))
            {
                return "holds half a character; write the text again";
            }
        }

        return null;
    }

    /// <summary>What is wrong with the id of a processor in a chain, or null.</summary>
    public static string? FaultOfId(string id)
    {
        bool right = id.Length > 0 && id.All(letter => char.IsAsciiLetterLower(letter) || char.IsAsciiDigit(letter) || letter == '-');
        return right ? null : $"'{id}' must be lower-case letters, digits and hyphens, such as 'equaliser-2'";
    }

    /// <summary>What is wrong with a digest, or null; an empty one is not taken yet.</summary>
    public static string? FaultOfDigest(string digest)
    {
        bool right = digest.Length == 0 || (digest.Length == 64 && !digest.AsSpan().ContainsAnyExcept(Hexadecimal));
        return right ? null : "must be the SHA-256 of the file: 64 lower-case hexadecimal digits";
    }
}
