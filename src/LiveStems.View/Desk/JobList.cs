using System.Collections.Concurrent;

namespace LiveStems.View.Desk;

/// <summary>
/// Work that takes longer than a picture: one job after the other on a thread of low rank, so that the sound always goes
/// first. Results come back on the desk's own thread.
/// </summary>
public sealed class JobList : IDisposable
{
    private const int Remembered = 20;

    private readonly Action<MessageKind, string> say;
    private readonly BlockingCollection<DeskJob> queue = [];
    private readonly ConcurrentQueue<Action> results = new();
    private readonly List<DeskJob> jobs = [];
    private readonly SmallWork small = new();
    private readonly Thread thread;

    internal JobList(Action<MessageKind, string> say)
    {
        this.say = say;
        thread = new Thread(RunAll) { IsBackground = true, Name = "jobs", Priority = ThreadPriority.BelowNormal };
        thread.Start();
    }

    /// <summary>The jobs that wait and run and the latest that are over, in the order they were asked for.</summary>
    public IReadOnlyList<DeskJob> All => jobs;

    /// <summary>The job that waits or runs, of a kind, the latest where one that was called off has not noticed yet; or null.</summary>
    public DeskJob? Open(string kind) => jobs.FindLast(job => job.Kind == kind && job.IsOpen);

    /// <summary>The job that is at work, or the next; null where there is none.</summary>
    public DeskJob? Current => jobs.Find(job => job.IsOpen);

    /// <summary>True while anything waits or runs.</summary>
    public bool IsBusy => jobs.Exists(job => job.IsOpen);

    /// <summary>Starts a job; one of the same kind that waits or runs is called off.</summary>
    /// <typeparam name="T">What it finds.</typeparam>
    /// <param name="kind">What sort of work it is.</param>
    /// <param name="words">What is being done.</param>
    /// <param name="work">The work; told where to report its share, 0 to 1, and when to stop.</param>
    /// <param name="done">Takes the result, on the desk's thread.</param>
    public DeskJob Start<T>(string kind, string words, Func<IProgress<double>, CancellationToken, T> work, Action<T> done)
    {
        foreach (DeskJob before in jobs.Where(each => each.Kind == kind && each.IsOpen))
        {
            before.Cancel();
        }

        DeskJob job = new(kind, words, each =>
        {
            T result = work(new ShareOf(each), each.Cancellation);
            return () => done(result);
        });
        jobs.Add(job);
        while (jobs.Count > Remembered && !jobs[0].IsOpen)
        {
            jobs[0].Dispose();
            jobs.RemoveAt(0);
        }

        queue.Add(job);
        return job;
    }

    /// <summary>Has something small worked out beside the jobs, at their rank: see <see cref="SmallWork"/>.</summary>
    internal Task<T> Beside<T>(Func<T> work) => small.Start(work);

    /// <summary>
    /// Calls off the job that is at work, or the next, and says so once it has ended without a result; asked again before it has
    /// noticed, nothing else is called off. Null, or why not.
    /// </summary>
    public string? CallOff()
    {
        if (Current is not { } job)
        {
            return "nothing is at work that could be called off";
        }

        job.TellsEnd = true;
        job.Cancel();
        return null;
    }

    /// <summary>Calls every job off and waits for the running one to stop.</summary>
    public void Dispose()
    {
        queue.CompleteAdding();
        jobs.ForEach(job => job.Cancel());
        small.Dispose();
        thread.Join();
        queue.Dispose();
        jobs.ForEach(job => job.Dispose());
    }

    internal void Update()
    {
        while (results.TryDequeue(out Action? result))
        {
            result();
        }
    }

    private void RunAll()
    {
        foreach (DeskJob job in queue.GetConsumingEnumerable())
        {
            if (job.Cancellation.IsCancellationRequested)
            {
                job.TakeWork();
                results.Enqueue(End(job));
                continue;
            }

            job.Begin();
            results.Enqueue(Run(job));
        }
    }

    private Action Run(DeskJob job)
    {
        try
        {
            Action deliver = job.TakeWork()!(job);
            job.Report(1);
            return () => Take(job, deliver);
        }
        catch (OperationCanceledException)
        {
            return End(job);
        }
        catch (Exception fault) when (fault is not OutOfMemoryException)
        {
            // Whatever goes wrong in a job, the sound and what is unsaved must outlive it.
            return Fail(job, fault);
        }
    }

    private Action End(DeskJob job) => () =>
    {
        job.State = JobState.Cancelled;
        if (job.TellsEnd)
        {
            say(MessageKind.Remark, $"called off: {job.Words}");
        }
    };

    private void Take(DeskJob job, Action deliver)
    {
        try
        {
            job.State = JobState.Done;
            deliver();
        }
        catch (Exception fault) when (fault is not OutOfMemoryException)
        {
            // The desk is another than when the job began: whatever its result no longer fits must not end the window.
            Fail(job, fault)();
        }
    }

    private Action Fail(DeskJob job, Exception fault) => () =>
    {
        job.Fault = fault.Message;
        job.State = JobState.Failed;
        say(MessageKind.Trouble, $"{job.Words}: {fault.Message}");
    };

    private sealed class ShareOf(DeskJob job) : IProgress<double>
    {
        public void Report(double value) => job.Report(value);
    }
}
