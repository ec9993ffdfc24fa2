namespace LiveStems.Engine.RealTime;

/// <summary>One entry of the list that the audio thread walks.</summary>
internal abstract class PlanStep
{
    /// <summary>Does the work for the next frames. Never allocates, locks, waits, does I/O or throws.</summary>
    public abstract void Run(in PlanBlock block);

    /// <summary>State as if from silence.</summary>
    public abstract void Reset();
}
