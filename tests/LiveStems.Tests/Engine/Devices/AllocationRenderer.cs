using LiveStems.Engine.Devices;

namespace LiveStems.Tests.Engine.Devices;

/// <summary>Measures what its thread has allocated between its calls, after a number of calls to warm up.</summary>
internal sealed class AllocationRenderer(int warmUpCalls, int measuredCalls) : IAudioRenderer, IDisposable
{
    private readonly ManualResetEventSlim done = new();
    private long before;
    private int calls;

    public long AllocatedBytes { get; private set; } = -1;

    public bool Wait(TimeSpan limit) => done.Wait(limit);

    public void Render(Span<float> left, Span<float> right)
    {
        left.Clear();
        right.Clear();
        calls++;
        if (calls == warmUpCalls)
        {
            before = GC.GetAllocatedBytesForCurrentThread();
        }
        else if (calls == warmUpCalls + measuredCalls)
        {
            AllocatedBytes = GC.GetAllocatedBytesForCurrentThread() - before;
            done.Set();
        }
    }

    public void Dispose() => done.Dispose();
}
