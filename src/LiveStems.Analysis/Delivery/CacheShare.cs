using LiveStems.Analysis.Caching;

namespace LiveStems.Analysis.Delivery;

/// <summary>
/// Keeps what a delivery works out on the way within the cache's bounds while it is under way: an album of a hundred songs
/// would fill a disk otherwise. What songs that are being made may still read stays, and what is wanted at the end.
/// </summary>
internal sealed class CacheShare
{
    private readonly Lock gate = new();
    private readonly List<DateTime> begun = [];
    private readonly HashSet<string> kept = [];

    /// <summary>A song is begun: nothing that is written or used from now on goes before it is done.</summary>
    /// <returns>To be handed to <see cref="Done"/>.</returns>
    public DateTime Begin()
    {
        lock (gate)
        {
            DateTime now = DateTime.UtcNow;
            begun.Add(now);
            return now;
        }
    }

    /// <summary>A file is wanted until the end.</summary>
    public void Keep(string path)
    {
        lock (gate)
        {
            kept.Add(path);
        }
    }

    /// <summary>A song is done: what was used longest ago goes where the cache is over its bounds.</summary>
    public void Done(DateTime begin)
    {
        lock (gate)
        {
            begun.Remove(begin);

            // Clocks of file systems may lag by a tick of the system's.
            DateTime eldest = (begun.Count > 0 ? begun.Min() : DateTime.UtcNow).AddSeconds(-1);
            CacheFolder.Prune(CacheFolder.For("renders"), CacheFolder.LargestBytes, file => file.LastWriteTimeUtc < eldest && !kept.Contains(file.FullName));
        }
    }
}
