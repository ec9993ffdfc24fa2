using System.Diagnostics;
using System.Diagnostics.Tracing;

namespace LiveStems.Bench.Scenarios;

/// <summary>When and for how long the garbage collector has stopped all threads, by the runtime's own events.</summary>
internal sealed class GarbageCollections : EventListener
{
    private const int GcKeyword = 1;
    private const int SuspendBegin = 9;
    private const int RestartEnd = 3;

    // The events carry the time of day; this ties it to the stopwatch that missed periods are timed with.
    private static readonly long OriginTicks = DateTime.UtcNow.Ticks;
    private static readonly long OriginTimestamp = Stopwatch.GetTimestamp();

    private readonly Lock access = new();
    private readonly List<(long Begin, long End)> stops = [];
    private long suspendedAt;

    /// <summary>Stops so far.</summary>
    public int Count
    {
        get
        {
            lock (access)
            {
                return stops.Count;
            }
        }
    }

    /// <summary>The longest in milliseconds.</summary>
    public double LongestMilliseconds
    {
        get
        {
            lock (access)
            {
                return stops.Count == 0 ? 0 : TimeSpan.FromTicks(stops.Max(stop => stop.End - stop.Begin)).TotalMilliseconds;
            }
        }
    }

    /// <summary>
    /// True when a period that was found missed at a timestamp of <see cref="Stopwatch"/> may have been so because of a
    /// stop: one that reached into it or the period before.
    /// </summary>
    public bool Overlaps(long timestamp, double periodSeconds)
    {
        long at = OriginTicks + (long)Math.Round((double)(timestamp - OriginTimestamp) / Stopwatch.Frequency * TimeSpan.TicksPerSecond);
        long from = at - (long)(2 * periodSeconds * TimeSpan.TicksPerSecond);
        lock (access)
        {
            return stops.Exists(stop => stop.End >= from && stop.Begin <= at);
        }
    }

    protected override void OnEventSourceCreated(EventSource eventSource)
    {
        if (eventSource.Name == "Microsoft-Windows-DotNETRuntime")
        {
            EnableEvents(eventSource, EventLevel.Informational, (EventKeywords)GcKeyword);
        }
    }

    protected override void OnEventWritten(EventWrittenEventArgs eventData)
    {
        long now = eventData.TimeStamp.ToUniversalTime().Ticks;
        if (eventData.EventId == SuspendBegin)
        {
            suspendedAt = now;
        }
        else if (eventData.EventId == RestartEnd && suspendedAt != 0)
        {
            lock (access)
            {
                stops.Add((suspendedAt, now));
            }

            suspendedAt = 0;
        }
    }
}
