using System.Diagnostics;

namespace LiveStems.Engine.Devices;

/// <summary>
/// When and for how long the runtime has held all threads to collect garbage, by its own record of each collection: what
/// missed periods of the sound are held against.
/// </summary>
/// <remarks>
/// A thread asks for the record a thousand times a second. The runtime's events would tell the moment itself, but it writes
/// them while all threads stand, into memory that it fetches and gives back for it: with them, collections take about twice
/// as long, so that whoever looks would cause what he is looking for.
/// </remarks>
public sealed class GarbageCollections : IDisposable
{
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromMilliseconds(1);
    private static readonly long LongestConcurrent = 5 * Stopwatch.Frequency;

    private readonly Lock access = new();
    private readonly List<RuntimeStop> stops = [];
    private readonly Thread thread;
    private long noted = GC.GetGCMemoryInfo(GCKind.Ephemeral).Index;
    private long notedFull = GC.GetGCMemoryInfo(GCKind.FullBlocking).Index;
    private long notedConcurrent = GC.GetGCMemoryInfo(GCKind.Background).Index;
    private volatile bool isStopping;

    /// <summary>Begins to look.</summary>
    public GarbageCollections()
    {
        thread = new Thread(Run) { IsBackground = true, Name = "garbage collections", Priority = ThreadPriority.AboveNormal };
        thread.Start();
    }

    /// <summary>Stops since a timestamp of <see cref="Stopwatch"/>, and the longest of them in milliseconds.</summary>
    public (int Count, double LongestMilliseconds) Since(long timestamp)
    {
        lock (access)
        {
            RuntimeStop[] later = [.. stops.Where(stop => stop.Begin >= timestamp)];
            return (later.Length, later.Length == 0 ? 0 : later.Max(stop => stop.Milliseconds));
        }
    }

    /// <summary>The stops that can fall into a span of timestamps of <see cref="Stopwatch"/>, cut at its ends.</summary>
    public IReadOnlyList<RuntimeStop> Within(long from, long to)
    {
        lock (access)
        {
            return [.. stops.Where(stop => stop.End > from && stop.Begin < to).Select(stop => stop.Within(from, to))];
        }
    }

    /// <summary>Ticks of <see cref="Stopwatch"/> within this span during which all threads can have been held.</summary>
    public long TicksStopped(long from, long to) => Within(from, to).Sum(stop => stop.Ticks);

    /// <inheritdoc/>
    public void Dispose()
    {
        isStopping = true;
        thread.Join();
    }

    private void Run()
    {
        int known = GC.CollectionCount(0), knownOldest = GC.CollectionCount(GC.MaxGeneration);
        long before = Stopwatch.GetTimestamp(), concurrentUntil = 0;
        while (!isStopping)
        {
            Thread.Sleep(BetweenLooks);
            int count = GC.CollectionCount(0);
            long now = Stopwatch.GetTimestamp();
            if (count != known)
            {
                known = count;
                Note(GC.GetGCMemoryInfo(GCKind.Ephemeral), ref noted, before, now);
                Note(GC.GetGCMemoryInfo(GCKind.FullBlocking), ref notedFull, before, now);
                if (GC.CollectionCount(GC.MaxGeneration) != knownOldest)
                {
                    knownOldest = GC.CollectionCount(GC.MaxGeneration);
                    concurrentUntil = now + LongestConcurrent;
                }
            }

            // A concurrent one is counted when it begins, and its record stands when it ends: its two stops count as one there.
            if (now < concurrentUntil)
            {
                Note(GC.GetGCMemoryInfo(GCKind.Background), ref notedConcurrent, before, now);
            }

            before = now;
        }
    }

    private void Note(GCMemoryInfo last, ref long latest, long before, long now)
    {
        if (last.Index == latest)
        {
            return;
        }

        latest = last.Index;
        double seconds = 0;
        foreach (TimeSpan pause in last.PauseDurations)
        {
            seconds += pause.TotalSeconds;
        }

        lock (access)
        {
            stops.Add(new RuntimeStop(before, now, (long)(seconds * Stopwatch.Frequency), last.Generation, last.Concurrent));
        }
    }
}
