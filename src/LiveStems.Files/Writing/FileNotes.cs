namespace LiveStems.Files.Writing;

/// <summary>What is written into a sound file beside the sound.</summary>
/// <param name="Broadcast">The broadcast extension, for WAV files; null for none.</param>
/// <param name="Info">What the file says about its music; null for none.</param>
public sealed record FileNotes(BroadcastExtension? Broadcast, InfoTags? Info)
{
    /// <summary>Nothing.</summary>
    public static FileNotes None { get; } = new(null, null);

    /// <summary>The chunks of a WAV file, each padded to an even length.</summary>
    internal IEnumerable<(string Id, byte[] Body)> Chunks()
    {
        if (Broadcast is not null)
        {
            yield return ("bext", Broadcast.ToBytes());
        }

        if (Info is not null)
        {
            yield return ("LIST", Info.ToListBytes());
        }
    }
}
