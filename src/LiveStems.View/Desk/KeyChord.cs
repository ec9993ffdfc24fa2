namespace LiveStems.View.Desk;

/// <summary>A key with what is held beside it.</summary>
/// <param name="Key">Name of the key as printed: "A", "7", "Space", "Left", "Page down", "F1", "?", "+".</param>
/// <param name="Control">Control is held; Command on a Mac.</param>
/// <param name="Shift">Shift is held; for letters and named keys only: "?" is not Shift and a key.</param>
/// <param name="Alt">Alt is held; Option on a Mac.</param>
public readonly record struct KeyChord(string Key, bool Control = false, bool Shift = false, bool Alt = false)
{
    /// <summary>Reads "Ctrl+Shift+Z".</summary>
    /// <exception cref="FormatException">There is no key.</exception>
    public static KeyChord Parse(string text)
    {
        string rest = text.Trim();
        bool control = Strip(ref rest, "Ctrl+");
        bool alt = Strip(ref rest, "Alt+");
        bool shift = Strip(ref rest, "Shift+");
        return rest.Length > 0 ? new KeyChord(rest, control, shift, alt) : throw new FormatException($"'{text}' names no key");
    }

    /// <summary>"Ctrl+Shift+Z".</summary>
    public override string ToString() => $"{(Control ? "Ctrl+" : string.Empty)}{(Alt ? "Alt+" : string.Empty)}{(Shift ? "Shift+" : string.Empty)}{Key}";

    private static bool Strip(ref string text, string word)
    {
        bool has = text.Length > word.Length && text.StartsWith(word, StringComparison.OrdinalIgnoreCase);
        text = has ? text[word.Length..] : text;
        return has;
    }
}
