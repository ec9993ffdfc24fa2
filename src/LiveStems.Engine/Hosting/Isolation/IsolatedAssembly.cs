using System.Diagnostics;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Hosting.Isolation;

/// <summary>
/// An outside assembly whose processors run in a process of their own: starts it when the first of them is prepared, notices
/// its end or that it hangs, and starts it anew.
/// </summary>
public sealed class IsolatedAssembly
{
    private const int MostDeaths = 5;
    private const int MostTries = 3;
    private static readonly TimeSpan StartPatience = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan OpenPatience = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan LivePatience = TimeSpan.FromSeconds(0.5);
    private static readonly TimeSpan KeptIdle = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan Look = TimeSpan.FromMilliseconds(20);
    private static readonly TimeSpan DeathsForgotten = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan[] Pauses = [TimeSpan.FromSeconds(0.1), TimeSpan.FromSeconds(0.5), TimeSpan.FromSeconds(2), TimeSpan.FromSeconds(5)];

    private readonly AssemblyFacts facts;
    // Held for moments only; a process is started and asked outside of it, by one thread at a time.
    private readonly object gate = new();
    private readonly Lock starting = new();
    private readonly Lock reviving = new();
    private readonly Dictionary<int, RemoteLine> lines = [];
    private readonly Queue<long> deaths = new();
    private RunnerProcess? process;
    private int lastNumber;
    private int opening;
    private long usedAt;

    /// <summary>Of an assembly that the user trusts with this very content.</summary>
    public IsolatedAssembly(AssemblyFacts facts) => this.facts = facts;

    /// <summary>How long it may stand still where somebody waits for it.</summary>
    internal TimeSpan OfflinePatience { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>How long the last words of a process that has ended are waited for while something else holds its pipe.</summary>
    internal TimeSpan LastWordsPatience { get; init; } = TimeSpan.FromSeconds(0.5);

    /// <summary>Number of the running process, or null.</summary>
    public int? ProcessId
    {
        get
        {
            lock (gate)
            {
                return process?.Id;
            }
        }
    }

    /// <summary>Makers of its processors, which need no process before one of them is prepared.</summary>
    public IReadOnlyList<ProcessorMaker> Makers(IEnumerable<ProcessorDescription> descriptions) =>
        [.. descriptions.Select(description => new ProcessorMaker(description, Maker(description)) { RunsApart = true, CreateApart = Maker(description), Build = facts.Build })];

    /// <summary>The same makers, of which those that are asked for by a place, or by id, make processors that run apart.</summary>
    /// <param name="inside">Makers of the processors of the assembly inside the program.</param>
    /// <param name="apart">Ids of those that always run apart.</param>
    internal IReadOnlyList<ProcessorMaker> Beside(IEnumerable<ProcessorMaker> inside, IReadOnlyCollection<string> apart) =>
    [
        .. inside.Select(maker => apart.Contains(maker.Description.Id)
            ? Makers([maker.Description])[0]
            : maker with { CreateApart = Maker(maker.Description) }),
    ];

    private Func<Processor> Maker(ProcessorDescription description) => () => new IsolatedProcessor(description, this);

    /// <summary>Starts a process for long enough to ask what processors there are.</summary>
    /// <exception cref="HostingException">It cannot be started, or the assembly cannot be loaded.</exception>
    public static IReadOnlyList<ProcessorDescription> Describe(AssemblyFacts facts)
    {
        using RunnerProcess asked = RunnerProcess.Start(facts, StartPatience);
        return DescriptionText.Read(asked.Ready);
    }

    /// <summary>Descriptions as they are kept beside the trust in a file.</summary>
    public static string TextOf(IEnumerable<ProcessorDescription> descriptions) => DescriptionText.Write(descriptions);

    /// <summary>Has a processor examined in a process of its own; the answer is that process's line.</summary>
    /// <exception cref="HostingException">The process has ended, with the cause, or does not answer.</exception>
    public static string Vet(AssemblyFacts facts, string id, TimeSpan patience, CancellationToken cancellation)
    {
        const string Begins = "vetted\t";
        using RunnerProcess asked = RunnerProcess.Start(facts, StartPatience);

        // Whoever calls it off does not wait for its end.
        using CancellationTokenRegistration ending = cancellation.Register(() => ThreadPool.QueueUserWorkItem(each => each.Kill(), asked, preferLocal: false));
        try
        {
            return asked.Ask("vet\t" + id, Begins, patience)[Begins.Length..];
        }
        finally
        {
            cancellation.ThrowIfCancellationRequested();
            asked.Kill();
        }
    }

    /// <summary>Opens a line; its latency is the processor's own. Waits for the process where there is none yet.</summary>
    internal (RemoteLine Line, int Number, int LatencyFrames) Open(string id, ProcessingFormat format, Func<double>[] values, bool hasKey, bool isLive)
    {
        RemoteLine line = new(id, format, values, hasKey, isLive);
        int number = Interlocked.Increment(ref lastNumber);
        Interlocked.Increment(ref opening);
        try
        {
            for (int trial = 0; trial < MostTries; trial++)
            {
                RunnerProcess there = Running();
                int latency = line.Open(there, number, OpenPatience);
                if (TryKeep(there, number, line, isNew: true))
                {
                    return (line, number, latency);
                }
            }

            throw new HostingException("its process has ended again and again");
        }
        catch
        {
            line.Dispose();
            throw;
        }
        finally
        {
            Interlocked.Decrement(ref opening);
        }
    }

    /// <summary>The processor is gone. When it was the last one its process ends after a while. Waits for nobody.</summary>
    internal void Close(int number)
    {
        RemoteLine? line;
        RunnerProcess? there;
        lock (gate)
        {
            there = process;
            if (!lines.Remove(number, out line))
            {
                return;
            }
        }

        line.Dispose();
        Forget(there, number);
    }

    // A pipe that nobody empties may be full.
    private static void Forget(RunnerProcess? there, int number) =>
        ThreadPool.QueueUserWorkItem(each => each.There?.Tell($"close\t{each.Number}"), (There: there, Number: number), preferLocal: false);

    // The process that runs, or a new one; one that has just ended is its watcher's to clear away.
    private RunnerProcess Running()
    {
        lock (starting)
        {
            lock (gate)
            {
                if (process is { } there && !there.HasEndedWithin(TimeSpan.Zero))
                {
                    return there;
                }
            }

            RunnerProcess started = RunnerProcess.Start(facts, StartPatience, LastWordsPatience);
            lock (gate)
            {
                process = started;
            }

            new Thread(() => WatchOver(started)) { IsBackground = true, Name = "watch over " + facts.Name }.Start();
            return started;
        }
    }

    // False when the process that has opened the line is not the one that runs, or when the line has been closed meanwhile.
    private bool TryKeep(RunnerProcess opened, int number, RemoteLine line, bool isNew)
    {
        lock (gate)
        {
            if (ReferenceEquals(process, opened) && (isNew || lines.ContainsKey(number)))
            {
                lines[number] = line;
                line.Attach(opened);
                return true;
            }
        }

        Forget(opened, number);
        return false;
    }

    private void WatchOver(RunnerProcess watched)
    {
        string? cause = null;
        while (!watched.HasEndedWithin(Look))
        {
            if (LetGoWhenIdle(watched))
            {
                return;
            }

            if (AnyStuck(watched))
            {
                cause = "it did not come to an end";
                watched.Kill();
            }
        }

        cause ??= watched.Cause();
        TimeSpan? pause;
        lock (gate)
        {
            process = ReferenceEquals(process, watched) ? null : process;
            pause = PauseAfterDeath();

            // Another thread may have started the next one already, which may even have ended before this is known: what that one
            // serves, or has served, has lost nothing here.
            foreach (RemoteLine line in lines.Values.Where(each => each.IsServedBy(watched)))
            {
                line.Lose(cause, isLast: pause is null);
            }

            if (pause is null)
            {
                GiveUpWaiting("it ends again and again");
            }
        }

        watched.Dispose();

        if (pause is { } time)
        {
            Thread.Sleep(time);

            // Two may have ended one soon after the other: what has been taken up after the first waits no more.
            lock (reviving)
            {
                StartAnew();
            }
        }
    }

    // Of those that an earlier process has served.
    private void GiveUpWaiting(string why)
    {
        foreach (RemoteLine line in lines.Values.Where(each => each is { Ended: not null, IsGivenUp: false }))
        {
            line.GiveUp(why);
        }
    }

    // A process that nobody has needed for a while ends.
    private bool LetGoWhenIdle(RunnerProcess watched)
    {
        if (!System.Threading.Monitor.TryEnter(gate))
        {
            return false;
        }

        try
        {
            long now = Stopwatch.GetTimestamp();
            usedAt = lines.Count > 0 || opening > 0 || usedAt == 0 ? now : usedAt;
            if (Stopwatch.GetElapsedTime(usedAt, now) < KeptIdle)
            {
                return false;
            }

            process = null;
            usedAt = 0;
            watched.Dispose();
            return true;
        }
        finally
        {
            System.Threading.Monitor.Exit(gate);
        }
    }

    // What plays waits for it. Another thread may have started a process meanwhile: then that one serves them.
    private void StartAnew()
    {
        KeyValuePair<int, RemoteLine>[] waiting;
        lock (gate)
        {
            waiting = [.. lines.Where(pair => pair.Value is { IsLive: true, Ended: not null, IsGivenUp: false })];
        }

        if (waiting.Length == 0)
        {
            return;
        }

        RunnerProcess started;
        try
        {
            started = Running();
        }
        catch (HostingException fault)
        {
            Array.ForEach(waiting, pair => pair.Value.GiveUp(fault.Message));
            return;
        }

        foreach ((int number, RemoteLine line) in waiting)
        {
            try
            {
                line.Open(started, number, OpenPatience);
                TryKeep(started, number, line, isNew: false);
            }
            catch (HostingException fault)
            {
                if (!Runs(started))
                {
                    // Whoever watches over it starts the next one for those that are left.
                    return;
                }

                line.GiveUp(fault.Message);
            }
        }
    }

    private bool Runs(RunnerProcess there)
    {
        lock (gate)
        {
            return ReferenceEquals(process, there) && !there.HasEndedWithin(TimeSpan.Zero);
        }
    }

    // Null when it is not to be started again.
    private TimeSpan? PauseAfterDeath()
    {
        long now = Stopwatch.GetTimestamp();
        while (deaths.TryPeek(out long earliest) && Stopwatch.GetElapsedTime(earliest, now) > DeathsForgotten)
        {
            deaths.Dequeue();
        }

        deaths.Enqueue(now);
        return deaths.Count > MostDeaths ? null : Pauses[Math.Min(deaths.Count, Pauses.Length) - 1];
    }

    private bool AnyStuck(RunnerProcess watched)
    {
        if (!System.Threading.Monitor.TryEnter(gate))
        {
            return false;
        }

        try
        {
            return lines.Values.Any(line => line.IsServedBy(watched) && line.IsStuck(line.IsLive ? LivePatience : OfflinePatience));
        }
        finally
        {
            System.Threading.Monitor.Exit(gate);
        }
    }
}
