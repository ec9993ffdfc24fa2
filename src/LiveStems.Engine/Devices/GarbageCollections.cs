using System.Diagnostics;

namespace LiveStems.Engine.Devices;

/// <summary>
/// When and for how long the runtime has held all threads to collect garbage, by its own count of that time: what missed
/// periods of the sound are held against.
/// </summary>
/// <remarks>
/// A thread asks for the count a thousand times a second. The runtime's events would tell the moment itself, but it writes
/// them while all threads stand, into memory that it fetches and gives back for it: with them, collections take about twice
/// as long, so that whoever looks would cause what he is looking for. Its records of single collections leave out those that
/// another follows within a look, and the second stop of one that runs beside the threads; the count holds them all.
/// </remarks>
public sealed class GarbageCollections : IDisposable
{
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromMilliseconds(1);

    private readonly Lock access = new();
    private readonly List<RuntimeStop> stops = [];
    private readonly Thread thread;
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
        Look before = Look.Now();
        long full = GC.GetGCMemoryInfo(GCKind.FullBlocking).Index;
        while (!isStopping)
        {
            Thread.Sleep(BetweenLooks);
            Look now = Look.Now();
            if (now.Stopped != before.Stopped)
            {
                // Asking for it puts something on the heap: not with every look.
                long fullNow = GC.GetGCMemoryInfo(GCKind.FullBlocking).Index;
                lock (access)
                {
                    stops.Add(now.Since(before, isFullBlocking: fullNow != full));
                }

                full = fullNow;
            }

            before = now;
        }
    }

    /// <summary>What the runtime counts, at one moment.</summary>
    private readonly record struct Look(long Timestamp, TimeSpan Stopped, int Young, int Middle, int Oldest)
    {
        public static Look Now() => new(
            Stopwatch.GetTimestamp(),
            GC.GetTotalPauseDuration(),
            GC.CollectionCount(0),
            GC.CollectionCount(1),
            GC.CollectionCount(2));

        // Where nothing has been counted as a collection, one that runs beside the threads has come to its end; or the time of
        // one was counted in two parts, as often beside much garbage: how long is certain, of which kind is not.
        public RuntimeStop Since(Look before, bool isFullBlocking)
        {
            int generation = Oldest != before.Oldest ? 2 : Middle != before.Middle ? 1 : Young != before.Young ? 0 : 2;
            return new RuntimeStop(
                before.Timestamp,
                Timestamp,
                (long)((Stopped - before.Stopped).TotalSeconds * Stopwatch.Frequency),
                generation,
                generation == 2 && !isFullBlocking);
        }
    }
}
