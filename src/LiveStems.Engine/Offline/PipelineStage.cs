namespace LiveStems.Engine.Offline;

/// <summary>
/// One part of the work on every block: it takes the blocks one after the other, on whichever thread is free. Its counts
/// belong to whoever holds the pipeline's lock.
/// </summary>
/// <param name="work">The work on a block, by its number from 0.</param>
/// <param name="home">The thread that has its memory at hand, and takes it rather than others.</param>
internal sealed class PipelineStage(Action<long> work, int home)
{
    private readonly List<(PipelineStage Other, int Lead)> limits = [];
    private bool isAtWork;

    /// <summary>The thread that has its memory at hand, from 0.</summary>
    public int Home => home;

    /// <summary>Blocks done.</summary>
    public long Done { get; private set; }

    /// <summary>True when nobody is at it and all that its next block waits for is done.</summary>
    public bool IsReady
    {
        get
        {
            if (isAtWork)
            {
                return false;
            }

            foreach ((PipelineStage other, int lead) in limits)
            {
                if (Done >= other.Done + lead)
                {
                    return false;
                }
            }

            return true;
        }
    }

    /// <summary>Takes each block when another stage is done with it.</summary>
    public PipelineStage After(PipelineStage other) => AtMostAhead(other, 0);

    /// <summary>Takes no more than so many blocks that another stage is not done with.</summary>
    public PipelineStage AtMostAhead(PipelineStage other, int blocks)
    {
        limits.Add((other, blocks));
        return this;
    }

    /// <summary>Somebody is at it from now on.</summary>
    public void Take() => isAtWork = true;

    /// <summary>Outside the lock, by who took it: works on the next block.</summary>
    public void Run() => work(Done);

    /// <summary>The block that was taken is done.</summary>
    public void Finish()
    {
        isAtWork = false;
        Done++;
    }
}
