namespace LiveStems.View.Controls;

/// <summary>What keys are called.</summary>
internal static class KeyNames
{
    /// <summary>The name of a key that types nothing: "Left", "Page down", "F1".</summary>
    public static string Of(Key key) => key switch
    {
        Key.PageUp => "Page up",
        Key.PageDown => "Page down",
        Key.PadEnter => "Enter",
        Key.Escape => "Esc",
        Key.Comma => ",",
        Key.Minus => "-",
        Key.Period => ".",
        Key.Slash => "/",
        Key.Semicolon => ";",
        Key.Equal => "=",
        Key.LeftBracket => "[",
        Key.RightBracket => "]",
        Key.Backslash => "\\",
        Key.Apostrophe => "'",
        Key.Grave => "`",
        >= Key.D0 and <= Key.D9 => ((char)key).ToString(),
        _ => key.ToString(),
    };

    /// <summary>True for a key that types a character when nothing but shift is held.</summary>
    public static bool Types(Key key, Modifiers modifiers) =>
        (modifiers & (Modifiers.Control | Modifiers.Alt | Modifiers.System)) == 0 && (int)key is >= 32 and < 256;
}
