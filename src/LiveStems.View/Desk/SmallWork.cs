using System.Collections.Concurrent;

namespace LiveStems.View.Desk;

/// <summary>
/// Work of less than a second that nobody asked for and that shall not wait behind jobs: one piece after the other on a
/// thread of its own, of low rank, so that the sound always goes first.
/// </summary>
internal sealed class SmallWork : IDisposable
{
    private readonly BlockingCollection<Action> queue = [];
    private readonly Thread thread;

    public SmallWork()
    {
        thread = new Thread(RunAll) { IsBackground = true, Name = "small work", Priority = ThreadPriority.BelowNormal };
        thread.Start();
    }

    /// <summary>Has something worked out; what it throws is in the task.</summary>
    public Task<T> Start<T>(Func<T> work)
    {
        Task<T> task = new(work);
        queue.Add(() => task.RunSynchronously());
        return task;
    }

    /// <summary>Waits for what is under way; what has not begun is left.</summary>
    public void Dispose()
    {
        queue.CompleteAdding();
        while (queue.TryTake(out _))
        {
        }

        thread.Join();
        queue.Dispose();
    }

    private void RunAll()
    {
        foreach (Action work in queue.GetConsumingEnumerable())
        {
            work();
        }
    }
}
