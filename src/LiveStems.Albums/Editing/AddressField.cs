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
}
