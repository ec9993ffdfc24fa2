namespace LiveStems.Engine.Live;

/// <summary>
/// Keeps collections beside the music short: what has survived one waits in the second generation until there is as much of
/// it as the runtime sees fit, some 6 MB, and is then moved at once, while all threads stand. Moved in smaller portions it
/// holds them for as long altogether, and never for long.
/// </summary>
/// <remarks>On a machine with slow page faults 6 MB took 37 ms. Belongs to the control thread.</remarks>
internal sealed class YoungMemory
{
    private const int SecondGeneration = 1;
    private const long MostBytes = 2 << 20;

    private int seen = GC.CollectionCount(0);

    /// <summary>To be called some twenty times a second; looks only where something has been collected since.</summary>
    public void Keep()
    {
        int now = GC.CollectionCount(0);
        if (now == seen)
        {
            return;
        }

        if (GC.GetGCMemoryInfo(GCKind.Any).GenerationInfo[SecondGeneration].SizeAfterBytes > MostBytes)
        {
            GC.Collect(SecondGeneration, GCCollectionMode.Forced, blocking: true);
        }

        seen = GC.CollectionCount(0);
    }
}
