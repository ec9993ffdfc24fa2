namespace LiveStems.Albums.Model;

/// <summary>Something the engineer wrote down.</summary>
/// <param name="AtSeconds">The place in the song in seconds, or null for the whole.</param>
/// <param name="Text">The words.</param>
public sealed record Note(double? AtSeconds, string Text)
{
    /// <summary>Fields of the file that this program does not know, kept for a round trip.</summary>
    public UnknownFields Unknown { get; init; } = UnknownFields.None;
}
