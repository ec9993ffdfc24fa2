using System.Diagnostics.CodeAnalysis;

namespace LiveStems.Albums.Model;

/// <summary>
/// The International Standard Recording Code (ISO 3901:2019): a prefix of two letters and three letters or digits, two
/// digits of the year, five digits of designation. Written with hyphens, kept without (ISRC Handbook, section 3.5).
/// </summary>
public static class Isrc
{
    private const int Length = 12;

    /// <summary>Reads a code, with or without hyphens, in letters of either case.</summary>
    /// <param name="text">What was written; "ISRC" may stand before it.</param>
    /// <param name="code">Twelve letters and digits, upper case.</param>
    public static bool TryParse(string text, [NotNullWhen(true)] out string? code)
    {
        string bare = text.Trim().ToUpperInvariant();
        bare = bare.StartsWith("ISRC", StringComparison.Ordinal) && bare.Length > Length ? bare[4..].TrimStart() : bare;
        bare = bare.Replace("-", string.Empty, StringComparison.Ordinal).Replace(" ", string.Empty, StringComparison.Ordinal);
        code = IsCode(bare) ? bare : null;
        return code is not null;
    }

    /// <summary>True for a code as it is kept.</summary>
    public static bool IsCode(string text) =>
        text.Length == Length
        && text[..2].All(char.IsAsciiLetterUpper)
        && text[2..5].All(letter => char.IsAsciiLetterUpper(letter) || char.IsAsciiDigit(letter))
        && text[5..].All(char.IsAsciiDigit);

    /// <summary>The code as people write it: "AA-6Q7-26-00001"; nothing for none.</summary>
    public static string Written(string code) =>
        code.Length == Length ? $"{code[..2]}-{code[2..5]}-{code[5..7]}-{code[7..]}" : code;
}
