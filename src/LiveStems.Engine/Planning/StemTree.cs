using LiveStems.Albums.Model;
using LiveStems.Engine.Offline;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;

namespace LiveStems.Engine.Planning;

/// <summary>
/// What a stem sounds like behind every beginning of several chains: chains that begin alike share their first processors,
/// so that each distinct beginning is computed once.
/// </summary>
/// <param name="chains">Builds the processors.</param>
/// <param name="root">The stem as it enters its chain.</param>
/// <param name="maximumFrames">The longest block.</param>
internal sealed class StemTree(ChainBuilder chains, StereoBuffer root, int maximumFrames)
{
    private readonly List<List<Place>> levels = [];

    /// <summary>The stem as it enters its chain.</summary>
    public Place Root { get; } = new(root, 0, 0, []);

    /// <summary>The place behind a chain that begins at a place.</summary>
    public Place Behind(Place from, Chain chain, string name)
    {
        foreach (ChainSlot slot in chain.Slots.Where(slot => !chain.Bypassed && !slot.Bypassed && slot.MixPercent > 0))
        {
            Place before = from;
            from = Next(before, slot, (buffer, steps) => chains.Append(new Chain(false, [slot]), name, buffer, before.LatencyFrames, steps, []));
        }

        return from;
    }

    /// <summary>The place behind the fine alignment of a parallel.</summary>
    public Place Aligned(Place from, double samples) => samples == 0 ? from : Next(from, samples, (buffer, steps) =>
    {
        FineDelayStep align = new(buffer, samples);
        steps.Add(align);
        return align.LatencyFrames;
    });

    /// <summary>All steps, such that each comes behind what it takes its sound from; processors of one kind run side by side.</summary>
    public IEnumerable<PlanStep> LineUp() => levels.SelectMany(level => BranchGroup.LineUp([.. level.Select(place => new Queue<PlanStep>(place.Steps))]));

    private Place Next(Place from, object what, Func<StereoBuffer, List<PlanStep>, int> build)
    {
        if (from.Next.TryGetValue(what, out Place? there))
        {
            return there;
        }

        StereoBuffer buffer = new(maximumFrames);
        List<PlanStep> steps = [new CopyStep(from.Buffer, buffer, 0)];
        int latency = build(buffer, steps);
        Place place = new(buffer, from.LatencyFrames + latency, from.Depth + 1, steps);
        from.Next.Add(what, place);
        if (levels.Count < place.Depth)
        {
            levels.Add([]);
        }

        levels[place.Depth - 1].Add(place);
        return place;
    }

    /// <summary>A place in the tree.</summary>
    /// <param name="Buffer">Its sound.</param>
    /// <param name="LatencyFrames">Frames between the stem and it.</param>
    /// <param name="Depth">Processors between the stem and it.</param>
    /// <param name="Steps">What makes its sound of that of the place before.</param>
    public sealed record Place(StereoBuffer Buffer, int LatencyFrames, int Depth, List<PlanStep> Steps)
    {
        /// <summary>The places behind it, by what lies between.</summary>
        public Dictionary<object, Place> Next { get; } = [];
    }
}
