using System.Globalization;
using System.Text;

namespace LiveStems.App.Terminal;

/// <summary>How many columns of a terminal text takes, and text that takes no more than there are.</summary>
internal static class TextColumns
{
    private const string Mark = "…";

    // Blocks whose characters are wide (East_Asian_Width W or F of Unicode 16, UAX #11), rounded to whole blocks.
    private static readonly (int First, int Last)[] Wide =
    [
        (0x1100, 0x115F), (0x2E80, 0x303E), (0x3041, 0xA4CF), (0xA960, 0xA97C), (0xAC00, 0xD7A3), (0xF900, 0xFAFF),
        (0xFE30, 0xFE6F), (0xFF00, 0xFF60), (0xFFE0, 0xFFE6), (0x1F300, 0x1F64F), (0x1F680, 0x1F6FF), (0x1F900, 0x1F9FF), (0x20000, 0x3FFFD),
    ];

    /// <summary>Columns that a line of text takes.</summary>
    public static int Of(string text)
    {
        int columns = 0;
        foreach (Rune rune in text.EnumerateRunes())
        {
            columns += Of(rune);
        }

        return columns;
    }

    /// <summary>The text, or its beginning with a mark where it would take more columns than there are.</summary>
    public static string Cut(string text, int columns)
    {
        if (Of(text) <= columns)
        {
            return text;
        }

        StringBuilder cut = new();
        int taken = Of(Mark);
        foreach (Rune rune in text.EnumerateRunes())
        {
            taken += Of(rune);
            if (taken > columns)
            {
                break;
            }

            cut.Append(rune.ToString());
        }

        return columns > 0 ? cut.ToString().TrimEnd() + Mark : string.Empty;
    }

    private static int Of(Rune rune) => Rune.GetUnicodeCategory(rune) switch
    {
        UnicodeCategory.NonSpacingMark or UnicodeCategory.EnclosingMark or UnicodeCategory.Format or UnicodeCategory.Control => 0,
        _ => Array.Exists(Wide, block => rune.Value >= block.First && rune.Value <= block.Last) ? 2 : 1,
    };
}
