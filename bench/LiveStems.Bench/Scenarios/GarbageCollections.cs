using System.Diagnostics.Tracing;

namespace LiveStems.Bench.Scenarios;

/// <summary>How long the garbage collector has stopped all threads, by the runtime's own events.</summary>
internal sealed class GarbageCollections : EventListener
{
    private const int GcKeyword = 1;
    private const int SuspendBegin = 9;
    private const int RestartEnd = 3;

    private long suspendedAt;

    /// <summary>Stops so far.</summary>
    public int Count { get; private set; }

    /// <summary>The longest in milliseconds.</summary>
    public double LongestMilliseconds { get; private set; }

    protected override void OnEventSourceCreated(EventSource eventSource)
    {
        if (eventSource.Name == "Microsoft-Windows-DotNETRuntime")
        {
            EnableEvents(eventSource, EventLevel.Informational, (EventKeywords)GcKeyword);
        }
    }

    protected override void OnEventWritten(EventWrittenEventArgs eventData)
    {
        if (eventData.EventId == SuspendBegin)
        {
            suspendedAt = eventData.TimeStamp.Ticks;
        }
        else if (eventData.EventId == RestartEnd && suspendedAt != 0)
        {
            Count++;
            LongestMilliseconds = Math.Max(LongestMilliseconds, TimeSpan.FromTicks(eventData.TimeStamp.Ticks - suspendedAt).TotalMilliseconds);
            suspendedAt = 0;
        }
    }
}
