using System.Diagnostics;

namespace LiveStems.View.Desk;

/// <summary>How a job stands.</summary>
public enum JobState
{
    /// <summary>It has not begun.</summary>
    Waiting,

    /// <summary>It is at work.</summary>
    Running,

    /// <summary>It is done.</summary>
    Done,

    /// <summary>It was called off and left nothing behind.</summary>
    Cancelled,

    /// <summary>It could not be done; <see cref="DeskJob.Fault"/> says why.</summary>
    Failed,
}

/// <summary>Work in the background: how far it is, how long it will still take, and the way to call it off.</summary>
public sealed class DeskJob : IDisposable
{
    private const double EnoughShare = 0.02;
    private const double EnoughSeconds = 0.5;

    private Func<DeskJob, Action>? work;
    private readonly CancellationTokenSource cancellation = new();
    private readonly Stopwatch clock = new();
    private double share;
    private volatile JobState state;

    internal DeskJob(string kind, string words, Func<DeskJob, Action> work)
    {
        Kind = kind;
        Words = words;
        this.work = work;
    }

    /// <summary>What sort of work it is: a new job of a kind takes the place of one that waits or runs.</summary>
    public string Kind { get; }

    /// <summary>What is being done: "rendering Lamps Along The Mole".</summary>
    public string Words { get; }

    /// <summary>How it stands.</summary>
    public JobState State
    {
        get => state;
        internal set => state = value;
    }

    /// <summary>How far it has come, 0 to 1.</summary>
    public double Share => Volatile.Read(ref share);

    /// <summary>Seconds it will still take, or null while that cannot be said.</summary>
    public double? SecondsLeft =>
        State == JobState.Running && Share >= EnoughShare && clock.Elapsed.TotalSeconds >= EnoughSeconds
            ? clock.Elapsed.TotalSeconds * (1 - Share) / Share
            : null;

    /// <summary>Why it failed; empty otherwise.</summary>
    public string Fault { get; internal set; } = string.Empty;

    /// <summary>True while it waits or runs.</summary>
    public bool IsOpen => State is JobState.Waiting or JobState.Running;

    /// <summary>Ends it at the next opportunity.</summary>
    public CancellationToken Cancellation => cancellation.Token;

    /// <summary>True when somebody who called it off is to be told that it has ended.</summary>
    internal bool TellsEnd { get; set; }

    /// <summary>True while it holds on to what its work needs.</summary>
    internal bool HoldsWork => work is not null;

    /// <summary>Calls it off.</summary>
    public void Cancel()
    {
        if (IsOpen)
        {
            cancellation.Cancel();
        }
    }

    /// <summary>Lets go of what is needed to call it off; only once it is over.</summary>
    public void Dispose() => cancellation.Dispose();

    /// <summary>Its work, once: what that needs is not held by a job that is over.</summary>
    internal Func<DeskJob, Action>? TakeWork() => Interlocked.Exchange(ref work, null);

    internal void Begin()
    {
        clock.Start();
        State = JobState.Running;
    }

    internal void Report(double done) => Volatile.Write(ref share, Math.Clamp(done, 0, 1));
}
