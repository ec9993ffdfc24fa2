namespace LiveStems.Bench.Scenarios;

/// <summary>What each kind of hand's work puts on the heap, by the desk's thread itself and by all threads together.</summary>
internal sealed class HandCosts
{
    private readonly Dictionary<string, (long Count, long Bytes)> kinds = new(StringComparer.Ordinal);
    private readonly long startedWith = GC.GetTotalAllocatedBytes();
    private readonly int[] collections = Collections();

    /// <summary>Does something and charges what it allocated to the name it gives back.</summary>
    public void Take(Func<string> work)
    {
        long before = GC.GetAllocatedBytesForCurrentThread();
        string kind = work();
        (long count, long bytes) = kinds.GetValueOrDefault(kind);
        kinds[kind] = (count + 1, bytes + GC.GetAllocatedBytesForCurrentThread() - before);
    }

    /// <summary>Prints the kinds, the dearest first.</summary>
    public void Tell(double seconds)
    {
        int[] now = Collections();
        Console.WriteLine($"all threads: {(GC.GetTotalAllocatedBytes() - startedWith) / 1e6 / seconds:0.00} MB/s; collections of generation 0, 1, 2: {string.Join(", ", now.Select((count, i) => count - collections[i]))}");
        foreach ((string kind, (long count, long bytes)) in kinds.OrderByDescending(pair => pair.Value.Bytes))
        {
            Console.WriteLine($"  {bytes / 1e6 / seconds,8:0.000} MB/s  {kind}, {count} times, {bytes / 1e3 / count:0} kB each");
        }
    }

    private static int[] Collections() => [GC.CollectionCount(0), GC.CollectionCount(1), GC.CollectionCount(2)];
}
