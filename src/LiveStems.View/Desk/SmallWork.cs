using System.Collections.Concurrent;

namespace LiveStems.View.Desk;

/// <summary>
/// Work of less than a second that nobody asked for and that shall not wait behind jobs: one piece after the other on a
/// thread of its own, of low rank, so that the sound always goes first.
/// </summary>
internal sealed class SmallWork : IDisposable
{
    private readonly BlockingCollection<Action> queue = [];
    private readonly CancellationTokenSource end = new();
    private readonly Thread thread;

    public SmallWork()
    {
        thread = new Thread(RunAll) { IsBackground = true, Name = "small work", Priority = ThreadPriority.BelowNormal };
        thread.Start();
    }

    /// <summary>False from the moment it is disposed of.</summary>
    public bool IsOpen => !queue.IsAddingCompleted;

    /// <summary>Has something worked out; what it throws is in the task. After the end the task is called off.</summary>
    public Task<T> Start<T>(Func<T> work)
    {
        if (!IsOpen)
        {
            return Task.FromCanceled<T>(new CancellationToken(true));
        }

        Task<T> task = new(work);
        queue.Add(() => task.RunSynchronously(TaskScheduler.Default));
        return task;
    }

    /// <summary>Waits for what is under way; what has not begun is left.</summary>
    public void Dispose()
    {
        queue.CompleteAdding();
        end.Cancel();
        thread.Join();
        end.Dispose();
    }

    private void RunAll()
    {
        foreach (Action work in queue.GetConsumingEnumerable())
        {
            if (end.IsCancellationRequested)
            {
                return;
            }

            work();
        }
    }
}
