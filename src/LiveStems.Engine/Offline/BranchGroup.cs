using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;

namespace LiveStems.Engine.Offline;

/// <summary>
/// Some branches of a plan as one list of steps, in which processors of one kind meet and run side by side. Each branch
/// keeps its own order, so the result is the same bits as one branch after the other.
/// </summary>
internal sealed class BranchGroup
{
    private readonly PlanStep[] steps;

    /// <summary>Lines up the steps of some branches.</summary>
    public BranchGroup(Plan plan, IReadOnlyList<int> branches)
    {
        Branches = [.. branches];
        steps = [.. LineUp([.. branches.Select(branch => new Queue<PlanStep>(plan.Branch(branch)))])];
    }

    /// <summary>The branches in the group.</summary>
    public IReadOnlyList<int> Branches { get; }

    /// <summary>Shares branches out to groups of nearly equal size, at most so large.</summary>
    public static BranchGroup[] ShareOut(Plan plan, int largest)
    {
        int count = (plan.BranchCount + largest - 1) / largest;
        BranchGroup[] groups = new BranchGroup[count];
        for (int group = 0; group < count; group++)
        {
            int first = group * largest;
            int[] branches = new int[Math.Min(largest, plan.BranchCount - first)];
            for (int i = 0; i < branches.Length; i++)
            {
                branches[i] = first + i;
            }

            groups[group] = new BranchGroup(plan, branches);
        }

        return groups;
    }

    /// <summary>Reads the stems of the branches, unless the head of the plan does, and walks all branches.</summary>
    public void ReadAndRun(SongPlan song, in PlanBlock block)
    {
        if (!song.Plan.HasHead)
        {
            foreach (int branch in Branches)
            {
                song.Sources.Pumps[branch].ReadForPlan(block.Frames);
            }
        }

        Run(block);
    }

    /// <summary>Walks all branches.</summary>
    private void Run(in PlanBlock block)
    {
        foreach (PlanStep step in steps)
        {
            step.Run(block);
        }
    }

    /// <summary>
    /// The steps of several paths, which know nothing of each other, as one list. What runs alone goes ahead as far as it can;
    /// then the kind of processor that most paths wait for takes its turn.
    /// </summary>
    internal static IEnumerable<PlanStep> LineUp(Queue<PlanStep>[] branches)
    {
        while (Array.Exists(branches, branch => branch.Count > 0))
        {
            foreach (Queue<PlanStep> branch in branches)
            {
                while (branch.TryPeek(out PlanStep? next) && Kind(next) is null)
                {
                    yield return branch.Dequeue();
                }
            }

            IGrouping<Type, Queue<PlanStep>>? most = branches
                .Where(branch => branch.Count > 0)
                .GroupBy(branch => Kind(branch.Peek())!)
                .MaxBy(group => group.Count());
            foreach (PlanStep step in most is null ? [] : Together([.. most.Select(branch => (ProcessorStep)branch.Dequeue())]))
            {
                yield return step;
            }
        }
    }

    private static Type? Kind(PlanStep step) =>
        step is ProcessorStep { CanJoinGroup: true } processor ? processor.Processor.GetType() : null;

    private static PlanStep[] Together(ProcessorStep[] steps) =>
        steps.Length > 1 && ProcessorStepGroup.Of(steps) is { } group ? [group] : steps;
}
