namespace LiveStems.Engine.RealTime;

/// <summary>
/// A song compiled to a flat list of steps over memory that is all there. Walking it in order is all the audio thread
/// does.
/// </summary>
/// <remarks>
/// The list has three parts: the head (sources that others listen to), the branches (one stem with its chain and
/// parallels each, independent of each other), and the tail (sum and song bus). Offline, several threads may walk the
/// branches; the sum is always taken in the same order, so the result is the same bits.
/// </remarks>
internal sealed class Plan(
    PlanStep[] head, PlanStep[][] branches, PlanStep[] tail, StereoBuffer output, StereoBuffer? inOutput, int latencyFrames, int blocksInFlight)
{
    private readonly PlanStep[] steps = InOrder(head, branches, tail);
    private int current;

    /// <summary>Frames between the stems and the output.</summary>
    public int LatencyFrames { get; } = latencyFrames;

    /// <summary>Sets of branch outputs: blocks that may be under way at once.</summary>
    public int BlocksInFlight { get; } = blocksInFlight;

    /// <summary>True when some sources are read before the branches.</summary>
    public bool HasHead => head.Length > 0;

    /// <summary>Number of branches.</summary>
    public int BranchCount => branches.Length;

    /// <summary>The steps of a branch, in order.</summary>
    public IReadOnlyList<PlanStep> Branch(int branch) => branches[branch];

    /// <summary>The sum that the tail begins with.</summary>
    public Steps.MixStep? Mix => tail.Length > 0 ? tail[0] as Steps.MixStep : null;

    /// <summary>Where the tail leaves the master.</summary>
    public StereoBuffer Output { get; } = output;

    /// <summary>Where the tail leaves the other side of a comparison, aligned with the master; null without a comparison.</summary>
    public StereoBuffer? InOutput { get; } = inOutput;

    /// <summary>True when code of others runs in this process while the plan runs.</summary>
    public bool RunsForeignCode => Array.Exists(steps, step => step is Steps.ProcessorStep { RunsForeignCode: true });

    /// <summary>The whole list, on one thread.</summary>
    public void Run(int frames) => RunFrom(0, frames);

    /// <summary>
    /// The rest of the list after a thread was lost in a step on the way, which passes its processor by: on another thread,
    /// with the frames that <see cref="Run"/> was called with.
    /// </summary>
    public void GoOn(int frames)
    {
        steps[current].FinishWithoutProcessor(new PlanBlock(frames, 0));
        RunFrom(current + 1, frames);
    }

    public void RunHead(in PlanBlock block) => Walk(head, block);

    public void RunBranch(int branch, in PlanBlock block) => Walk(branches[branch], block);

    public void RunTail(in PlanBlock block) => Walk(tail, block);

    /// <summary>State as if from silence.</summary>
    public void Reset()
    {
        foreach (PlanStep step in steps)
        {
            step.Reset();
        }
    }

    private void RunFrom(int first, int frames)
    {
        PlanBlock block = new(frames, 0);
        for (int i = first; i < steps.Length; i++)
        {
            current = i;
            steps[i].Run(block);
        }
    }

    // A loop: iterators would be compiled anew at every start.
    private static PlanStep[] InOrder(PlanStep[] head, PlanStep[][] branches, PlanStep[] tail)
    {
        List<PlanStep> all = [.. head];
        foreach (PlanStep[] branch in branches)
        {
            all.AddRange(branch);
        }

        all.AddRange(tail);
        return [.. all];
    }

    private static void Walk(PlanStep[] steps, in PlanBlock block)
    {
        foreach (PlanStep step in steps)
        {
            step.Run(block);
        }
    }
}
