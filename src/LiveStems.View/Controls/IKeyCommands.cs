namespace LiveStems.View.Controls;

/// <summary>What keys do that no control took.</summary>
internal interface IKeyCommands
{
    /// <summary>Does what a key stands for; false when it stands for nothing.</summary>
    /// <param name="key">The key as printed, or its name: "A", "7", "?", "Space", "Left", "Page down".</param>
    /// <param name="modifiers">Keys held; shift counts for letters and named keys only.</param>
    /// <param name="isRepeat">True while the key is held down.</param>
    bool Press(string key, Modifiers modifiers, bool isRepeat);
}
