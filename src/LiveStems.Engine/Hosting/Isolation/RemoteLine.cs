using System.Globalization;
using LiveStems.Engine.RealTime;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Hosting.Isolation;

/// <summary>One processor in a process of its own, as the control side knows it; it outlives the processes that serve it.</summary>
internal sealed class RemoteLine : IDisposable
{
    // What is under way, the block that comes back and the one that is handed over, and as much again.
    private const int BlocksInLine = 16;

    private readonly string path = LinePlaces.Next();
    private readonly string id;
    private readonly ProcessingFormat format;
    private readonly Func<double>[] values;
    private long filling;
    private long seenProcessed = -1;
    private RunningTime stuck = new();
    private readonly Lock serving = new();
    private RemoteVoice? voice;
    private RunnerProcess? server;

    /// <param name="id">Id of the processor.</param>
    /// <param name="format">Rate and longest block.</param>
    /// <param name="values">Present value of each parameter.</param>
    /// <param name="hasKey">True when it listens to a key.</param>
    /// <param name="isLive">True when nobody waits for it.</param>
    public RemoteLine(string id, ProcessingFormat format, Func<double>[] values, bool hasKey, bool isLive)
    {
        this.id = id;
        this.format = format;
        this.values = values;
        IsLive = isLive;
        Memory = LineFile.Create(path, Math.Max(BlocksInLine * format.MaximumFrames, isLive ? format.SampleRate / 4 : 0), hasKey ? 4 : 2);
    }

    /// <summary>The shared memory.</summary>
    public SharedLine Memory { get; }

    /// <summary>True when nobody waits for it.</summary>
    public bool IsLive { get; }

    /// <summary>Why its process has ended; null while there is one.</summary>
    public volatile string? Ended;

    /// <summary>Why its process has ended the last time; null when it never has.</summary>
    public volatile string? LastCause;

    /// <summary>True when it is not started any more: it ended again and again, or could not be started.</summary>
    public volatile bool IsGivenUp;

    /// <summary>Why it could not be started anew; null when that is not the reason.</summary>
    public volatile string? Obstacle;

    /// <summary>Times that its process has ended.</summary>
    public int Deaths => Volatile.Read(ref deaths);

    private int deaths;

    /// <summary>Has a process open the line; returns the processor's latency in frames.</summary>
    /// <exception cref="HostingException">It cannot; the message says why.</exception>
    public int Open(RunnerProcess process, int number, TimeSpan patience)
    {
        long next = Interlocked.Increment(ref filling);
        string settings = string.Join('\t', values.Select(value => value().ToString("R", CultureInfo.InvariantCulture)));
        string order = string.Create(
            CultureInfo.InvariantCulture, $"open\t{number}\t{path}\t{next}\t{id}\t{format.SampleRate}\t{format.MaximumFrames}{(settings.Length > 0 ? "\t" : string.Empty)}{settings}");
        string begins = $"opened {number}\t";
        string answer = process.Ask(order, begins, patience)[begins.Length..];
        return int.TryParse(answer, NumberStyles.None, CultureInfo.InvariantCulture, out int latency)
            ? DeclaredLatency.Checked(latency, format)
            : throw new HostingException(answer);
    }

    /// <summary>The audio thread's side, once the latency is known: it finds the process, where there is one.</summary>
    public void Serve(RemoteVoice side)
    {
        lock (serving)
        {
            voice = side;
            voice.Attach(server is null ? 0 : Volatile.Read(ref filling));
        }
    }

    /// <summary>A process serves it from now on.</summary>
    public void Attach(RunnerProcess process)
    {
        lock (serving)
        {
            server = process;
            Ended = null;
            voice?.Attach(Volatile.Read(ref filling));
        }
    }

    /// <summary>True when it is this process that serves it.</summary>
    public bool IsServedBy(RunnerProcess? process)
    {
        lock (serving)
        {
            return process is not null && ReferenceEquals(server, process);
        }
    }

    /// <summary>Its process is gone.</summary>
    /// <param name="cause">Why.</param>
    /// <param name="isLast">True when it is not started any more.</param>
    public void Lose(string cause, bool isLast)
    {
        lock (serving)
        {
            server = null;
            IsGivenUp = isLast;
            Ended = LastCause = cause;
            Interlocked.Increment(ref deaths);
            voice?.Attach(0);
        }
    }

    /// <summary>Its process is gone and there will be no other.</summary>
    /// <param name="why">What stands in the way.</param>
    public void GiveUp(string why)
    {
        Ended = Obstacle = why;
        IsGivenUp = true;
    }

    /// <summary>
    /// True when it has been at the same frame for longer than a time although more has been handed over. While nothing has been
    /// handed over to the process that serves it now, what the counters say is about the one before.
    /// </summary>
    public bool IsStuck(TimeSpan patience)
    {
        long processed = Volatile.Read(ref Memory.Processed);
        if (processed != seenProcessed || processed >= Volatile.Read(ref Memory.Written) || Volatile.Read(ref Memory.Filling) != Volatile.Read(ref filling))
        {
            seenProcessed = processed;
            stuck.Restart();
            return false;
        }

        return stuck.Look() > patience;
    }

    public void Dispose()
    {
        Memory.Dispose();
        File.Delete(path);
    }
}
