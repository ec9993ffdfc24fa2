using System.Text;

namespace LiveStems.Analysis.Delivery;

/// <summary>File names that every common file system takes.</summary>
public static class SafeFileName
{
    private const string Unsafe = "<>:\"/\\|?*";

    // Names of devices on Windows, with or without an ending (Microsoft, "Naming Files, Paths, and Namespaces").
    private static readonly string[] Devices =
        ["CON", "PRN", "AUX", "NUL", .. Enumerable.Range(1, 9).SelectMany(number => new[] { $"COM{number}", $"LPT{number}" })];

    /// <summary>
    /// The text with characters that some system refuses replaced by '-', without control characters, without dots or
    /// spaces at the end or a dot at the start; never empty, and never the name of a device.
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

        // A name that begins with a dot is hidden, and marks files that are under way.
        string trimmed = name.ToString().Trim().TrimStart('.').TrimEnd('.', ' ').TrimStart();
        return trimmed.Length == 0 ? "untitled"
            : Devices.Contains(trimmed.Split('.')[0].TrimEnd(), StringComparer.OrdinalIgnoreCase) ? $"{trimmed}-"
            : trimmed;
    }

    /// <summary>The first character that some system refuses in names, in words; null where there is none.</summary>
    public static string? Refused(string text)
    {
        foreach (char character in text)
        {
            if (char.IsControl(character))
            {
                return $"the control character U+{(int)character:X4}";
            }

            if (Unsafe.Contains(character))
            {
                return $"'{character}'";
            }
        }

        return null;
    }
}
