namespace LiveStems.View.Desk;

/// <summary>Something a person can do: the one source for keys, the overlay that lists them, and the command search.</summary>
/// <param name="Id">Stable name: "play".</param>
/// <param name="Group">Heading in the overlay: "Playing".</param>
/// <param name="Words">What it does: "Play or stop".</param>
/// <param name="Keys">Keys that do it; none for what is only searched for.</param>
/// <param name="Run">Does it; returns null, or one line that says why not.</param>
public sealed record DeskCommand(string Id, string Group, string Words, IReadOnlyList<KeyChord> Keys, Func<string?> Run)
{
    /// <summary>Other words that the command search finds it by.</summary>
    public string SearchWords { get; init; } = string.Empty;

    /// <summary>True when it can be done now.</summary>
    public Func<bool> CanRun { get; init; } = () => true;

    /// <summary>The keys as text: "Space", "Ctrl+Z".</summary>
    public string KeyText => string.Join(", ", Keys);
}
