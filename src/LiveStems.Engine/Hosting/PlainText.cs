using System.Globalization;
using System.Text;

namespace LiveStems.Engine.Hosting;

/// <summary>
/// What others wrote, for people to read before they decide: nothing in it moves the cursor, colours, turns the direction of
/// writing round or hides.
/// </summary>
public static class PlainText
{
    // In every shell that is usual.
    private const string Harmless = "-_.,:/\\+@";

    /// <summary>
    /// The text on one line. What would not show as itself (Unicode 16, general categories Cc, Cf, Cs, Co, Cn, Zl and Zp: controls,
    /// marks of direction, letters without width…) is the replacement sign; ends of lines and tabulators are spaces.
    /// </summary>
    /// <param name="text">Anything.</param>
    /// <param name="mostLetters">What is longer ends with an ellipsis.</param>
    public static string Of(string text, int mostLetters = int.MaxValue)
    {
        StringBuilder plain = new();
        int letters = 0;
        foreach (Rune rune in text.ReplaceLineEndings(" ").EnumerateRunes())
        {
            if (letters++ == mostLetters)
            {
                plain.Append('…');
                break;
            }

            plain.Append(rune.Value == '\t' ? " " : Shows(rune) ? rune.ToString() : Rune.ReplacementChar.ToString());
        }

        return plain.ToString();
    }

    /// <summary>A name as it is given to a command in a terminal: in quotes where that would take it for more than one word, or for more than a name.</summary>
    public static string Argument(string name) =>
        name.Length > 0 && name.All(each => char.IsLetterOrDigit(each) || Harmless.Contains(each)) ? name
        : OperatingSystem.IsWindows() ? $"\"{name}\""
        : $"'{name.Replace("'", "'\\''", StringComparison.Ordinal)}'";

    private static bool Shows(Rune rune) => Rune.GetUnicodeCategory(rune) is not (
        UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.Surrogate or UnicodeCategory.PrivateUse
        or UnicodeCategory.OtherNotAssigned or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator);
}
