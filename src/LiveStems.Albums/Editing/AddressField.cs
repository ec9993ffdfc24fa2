using LiveStems.Albums.Model;

namespace LiveStems.Albums.Editing;

/// <summary>A value that an address leads to.</summary>
/// <param name="Name">Name behind the dot: "gainDb", "band1.gainDb".</param>
/// <param name="Text">The present value as people write it.</param>
/// <param name="Set">The album with the value that a text gives, or null when the value cannot be set.</param>
internal sealed record AddressField(string Name, string Text, Func<string, Album>? Set)
{
    /// <summary>Another name that leads here too.</summary>
    public string Alias { get; init; } = Name;

    /// <summary>What it is called in a sentence: "band 1 gain".</summary>
    public string Words { get; init; } = SpokenName.OfId(Name);

    /// <summary>What it is called where only the ear matters, such as "low-pass frequency" for "band 12 frequency".</summary>
    public string SaidWords
    {
        get => field ?? Words;
        init;
    }

    /// <summary>The value with all its digits; null when it is another's, and changes where that does.</summary>
    public string? Exact { get; init; } = Text;

    /// <summary>The value of something new, exact and as people write it; null when there is none that goes without saying.</summary>
    public (string Exact, string Text)? Initial { get; init; }
}
