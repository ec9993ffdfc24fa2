using System.Text;

namespace LiveStems.Analysis.Delivery;

/// <summary>File names that every common file system takes.</summary>
public static class SafeFileName
{
    private const string Unsafe = "<>:\"/\\|?*";

    /// <summary>
    /// The text with characters that some system refuses replaced by '-', without control characters and without dots or
    /// spaces at the end; never empty.
    /// </summary>
    public static string From(string text)
    {
        StringBuilder name = new(text.Length);
        foreach (char character in text)
        {
            if (!char.IsControl(character))
            {
                name.Append(Unsafe.Contains(character) ? '-' : character);
            }
        }

        string trimmed = name.ToString().Trim().TrimEnd('.', ' ');
        return trimmed.Length == 0 ? "untitled" : trimmed;
    }
}
