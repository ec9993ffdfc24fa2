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
internal sealed class BranchTree(ChainBuilder chains, StereoBuffer root, int maximumFrames)
{
    private readonly SortedDictionary<(int Path, int Slot), List<Place>> levels = [];
    private readonly List<PlannedSlot> slots = [];

    /// <summary>The stem as it enters its chain.</summary>
    public Place Root { get; } = new(root, 0, []);

    /// <summary>The place behind a chain that begins at a place.</summary>
    /// <param name="from">Where it begins.</param>
    /// <param name="chain">The chain; states of one path have their slots at the same index.</param>
    /// <param name="name">What messages call it.</param>
    /// <param name="path">Which path it is: 0 for the stem's own, which parallels follow.</param>
    public Place Behind(Place from, Chain chain, string name, int path)
    {
        for (int i = 0; i < chain.Slots.Length; i++)
        {
            ChainSlot slot = chain.Slots[i];
            if (!chain.Bypassed && !slot.Bypassed && slot.MixPercent > 0)
            {
                Place before = from;
                from = Next(before, (path, i), slot, (buffer, steps) => chains.Append(new Chain(false, [slot]), name, buffer, before.LatencyFrames, steps, slots));
            }
        }

        return from;
    }

    /// <summary>All processors in the tree.</summary>
    public IReadOnlyList<PlannedSlot> Slots => slots;

    /// <summary>The place behind the fine alignment of a parallel.</summary>
    public Place Aligned(Place from, double samples, int path) => samples == 0 ? from : Next(from, (path, int.MaxValue), samples, (buffer, steps) =>
    {
        FineDelayStep align = new(buffer, samples);
        steps.Add(align);
        return align.LatencyFrames;
    });

    /// <summary>
    /// All steps, such that each comes behind what it takes its sound from: slot by slot, so that all places behind a slot are
    /// there together, and processors of one kind run side by side.
    /// </summary>
    public IEnumerable<PlanStep> LineUp() => levels.Values.SelectMany(level => BranchGroup.LineUp([.. level.Select(place => new Queue<PlanStep>(place.Steps))]));

    private Place Next(Place from, (int Path, int Slot) level, object what, Func<StereoBuffer, List<PlanStep>, int> build)
    {
        if (from.Next.TryGetValue(what, out Place? there))
        {
            return there;
        }

        StereoBuffer buffer = new(maximumFrames);
        List<PlanStep> steps = [new CopyStep(from.Buffer, buffer, 0)];
        int latency = build(buffer, steps);
        Place place = new(buffer, from.LatencyFrames + latency, steps);
        from.Next.Add(what, place);
        if (!levels.TryGetValue(level, out List<Place>? places))
        {
            levels.Add(level, places = []);
        }

        places.Add(place);
        return place;
    }

    /// <summary>A place in the tree.</summary>
    /// <param name="Buffer">Its sound.</param>
    /// <param name="LatencyFrames">Frames between the stem and it.</param>
    /// <param name="Steps">What makes its sound of that of the place before.</param>
    public sealed record Place(StereoBuffer Buffer, int LatencyFrames, List<PlanStep> Steps)
    {
        /// <summary>The places behind it, by what lies between.</summary>
        public Dictionary<object, Place> Next { get; } = [];
    }
}
