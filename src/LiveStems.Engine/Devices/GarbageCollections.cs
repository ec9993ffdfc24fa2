using System.Diagnostics;
using System.Diagnostics.Tracing;

namespace LiveStems.Engine.Devices;

/// <summary>
/// When and for how long the runtime has stopped all threads, nearly always to collect garbage, by its own events: what missed
/// periods of the sound are held against.
/// </summary>
public sealed class GarbageCollections : EventListener
{
    private const int GcKeyword = 1;
    private const int CollectionBegin = 1;
    private const int ConcurrentKind = 1;
    private const int SuspendBegin = 9;
    private const int RestartEnd = 3;

    private readonly Lock access = new();
    private readonly List<RuntimeStop> stops = [];

    // The next stop may begin before the end of the one before is told.
    private readonly Queue<RuntimeStop> begun = new();
    private RuntimeStop? latest;

    /// <summary>Stops since a timestamp of <see cref="Stopwatch"/>, and the longest of them in milliseconds.</summary>
    public (int Count, double LongestMilliseconds) Since(long timestamp)
    {
        lock (access)
        {
            RuntimeStop[] later = [.. stops.Where(stop => stop.Begin >= timestamp)];
            return (later.Length, later.Length == 0 ? 0 : later.Max(stop => stop.Milliseconds));
        }
    }

    /// <summary>The stops that fall into a span of timestamps of <see cref="Stopwatch"/>, cut at its ends.</summary>
    public IReadOnlyList<RuntimeStop> Within(long from, long to)
    {
        lock (access)
        {
            return
            [
                .. stops.Where(stop => stop.End > from && stop.Begin < to)
                    .Select(stop => stop with { Begin = Math.Max(stop.Begin, from), End = Math.Min(stop.End, to) }),
            ];
        }
    }

    /// <summary>Ticks of <see cref="Stopwatch"/> within this span during which all threads were stopped.</summary>
    public long TicksStopped(long from, long to) => Within(from, to).Sum(stop => stop.End - stop.Begin);

    /// <inheritdoc/>
    protected override void OnEventSourceCreated(EventSource eventSource)
    {
        if (eventSource.Name == "Microsoft-Windows-DotNETRuntime")
        {
            EnableEvents(eventSource, EventLevel.Informational, (EventKeywords)GcKeyword);
        }
    }

    /// <inheritdoc/>
    protected override void OnEventWritten(EventWrittenEventArgs eventData)
    {
        // The events carry the time of day, which may be set or slewed: it is tied to the stopwatch anew for each.
        double ago = (DateTime.UtcNow - eventData.TimeStamp.ToUniversalTime()).TotalSeconds;
        long now = Stopwatch.GetTimestamp() - (long)(ago * Stopwatch.Frequency);
        if (eventData.EventId == SuspendBegin)
        {
            Hold();
            latest = new RuntimeStop(now, now, RuntimeStop.NoCollection, IsConcurrent: false);
        }
        else if (eventData.EventId == CollectionBegin && eventData.Payload is [_, uint depth, _, uint kind, ..])
        {
            latest = latest is { } stop ? stop with { Generation = (int)depth, IsConcurrent = kind == ConcurrentKind } : null;
        }
        else if (eventData.EventId == RestartEnd)
        {
            if (begun.Count == 0)
            {
                Hold();
            }

            if (begun.TryDequeue(out RuntimeStop over))
            {
                lock (access)
                {
                    stops.Add(over with { End = now });
                }
            }
        }
    }

    private void Hold()
    {
        if (latest is { } stop)
        {
            begun.Enqueue(stop);
            latest = null;
        }
    }
}
