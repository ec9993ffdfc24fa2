namespace LiveStems.Engine.RealTime;

/// <summary>One entry of the list that the audio thread walks.</summary>
internal abstract class PlanStep
{
    /// <summary>Does the work for the next frames. Never allocates, locks, waits, does I/O or throws.</summary>
    public abstract void Run(in PlanBlock block);

    /// <summary>The rest of <see cref="Run"/> after a thread was lost in the step's processor, which is passed by from now on.</summary>
    public virtual void FinishWithoutProcessor(in PlanBlock block)
    {
    }

    /// <summary>State as if from silence.</summary>
    public abstract void Reset();
}
