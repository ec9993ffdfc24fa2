using System.Collections.Concurrent;
using System.Diagnostics.Tracing;
using System.Globalization;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// What is put on the heap, by type: the runtime names one object in every 100 kB or so, and stands for the bytes since
/// the one before. Objects of 85,000 bytes or more are kept apart, since they wait for a collection of everything.
/// </summary>
internal sealed class AllocationWatch : EventListener
{
    private const string Runtime = "Microsoft-Windows-DotNETRuntime";
    private const EventKeywords Collections = (EventKeywords)1;
    private const uint LargeObjects = 1;

    // The base class may call back before the fields of this one are set.
    private readonly ConcurrentDictionary<(string Type, bool IsLarge), long> bytes = new();

    /// <summary>The types that took most, in megabytes.</summary>
    public IEnumerable<(string Type, bool IsLarge, double Megabytes)> Largest(int count) =>
        bytes.OrderByDescending(pair => pair.Value).Take(count).Select(pair => (pair.Key.Type, pair.Key.IsLarge, pair.Value / 1e6));

    protected override void OnEventSourceCreated(EventSource eventSource)
    {
        if (eventSource.Name == Runtime)
        {
            EnableEvents(eventSource, EventLevel.Verbose, Collections);
        }
    }

    protected override void OnEventWritten(EventWrittenEventArgs eventData)
    {
        if (bytes is null || eventData.EventName?.StartsWith("GCAllocationTick", StringComparison.Ordinal) != true)
        {
            return;
        }

        bool isLarge = Number(eventData, "AllocationKind") == LargeObjects;
        string type = Field(eventData, "TypeName") as string ?? "?";
        bytes.AddOrUpdate((type, isLarge), _ => Number(eventData, "AllocationAmount64"), (_, sum) => sum + Number(eventData, "AllocationAmount64"));
    }

    private static long Number(EventWrittenEventArgs data, string name) => Convert.ToInt64(Field(data, name), CultureInfo.InvariantCulture);

    private static object? Field(EventWrittenEventArgs data, string name) =>
        data.PayloadNames?.IndexOf(name) is { } at and >= 0 ? data.Payload?[at] : null;
}
