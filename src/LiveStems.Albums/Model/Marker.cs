namespace LiveStems.Albums.Model;

/// <summary>A named place in a song: "Chorus", "breath before the solo".</summary>
/// <param name="Name">Name, unique in the song.</param>
/// <param name="AtSeconds">Seconds from the start of the song.</param>
public sealed record Marker(string Name, double AtSeconds)
{
    /// <summary>Fields of the file that this program does not know, kept for a round trip.</summary>
    public UnknownFields Unknown { get; init; } = UnknownFields.None;
}
