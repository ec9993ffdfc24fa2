namespace LiveStems.Engine.RealTime;

/// <summary>Runs plans for a rendering thread that must not run code of others itself.</summary>
internal abstract class PlanRunner
{
    [ThreadStatic]
    private static PlanRunner? ofThisThread;

    /// <summary>What runs plans for the calling thread; null when it runs them itself.</summary>
    public static PlanRunner? OfThisThread => ofThisThread;

    /// <summary>How often a run for the calling thread has been lost: the time of that block was spent waiting.</summary>
    public static int LossesOfThisThread => ofThisThread?.Losses ?? 0;

    /// <summary>How often a run has been lost.</summary>
    protected abstract int Losses { get; }

    /// <summary>Has this run plans for the calling thread, which must never be the device's.</summary>
    public void RunForThisThread() => ofThisThread = this;

    /// <summary>Rendering thread: runs a plan, and returns when it has run, whatever its processors do.</summary>
    public abstract void Run(Plan plan, int frames);
}
