using LiveStems.Albums.Model;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;
using LiveStems.Engine.Streaming;

namespace LiveStems.Engine.Planning;

/// <summary>A compiled song over its open stems.</summary>
public sealed class SongPlan
{
    private (string Song, string Place, PlannedSlot Slot)[]? outsideSlots;

    internal SongPlan(SongSide side, SongSide? inSide, SongSources sources, Plan plan, IReadOnlyList<string> converted, IReadOnlyList<string> remarks)
    {
        Side = side;
        InSide = inSide;
        Sources = sources;
        Plan = plan;
        Converted = converted;
        Remarks = remarks;
    }

    /// <summary>What was compiled, links resolved.</summary>
    public Song Song => Side.Song;

    /// <summary>The stems it plays.</summary>
    public SongSources Sources { get; }

    /// <summary>Frames between the stems and the master, compensated everywhere.</summary>
    public int LatencyFrames => Plan.LatencyFrames;

    /// <summary>Stems that are converted to the rate that the song runs at, a line each.</summary>
    public IReadOnlyList<string> Converted { get; }

    /// <summary>What the listener should know: processors that are not here, stems whose rate is converted.</summary>
    public IReadOnlyList<string> Remarks { get; }

    /// <summary>Processors that the sound passes by since they broke a rule while the plan ran, each with its place and the rule.</summary>
    public IEnumerable<string> Failures() => Failures(Slots());

    /// <summary>Processors that are switched on and that the sound passes by: not here, not to be prepared, or failed while the plan ran.</summary>
    public IEnumerable<string> PassedBy() => Missing.Concat(Failures());

    internal static IEnumerable<string> Failures(IEnumerable<PlannedSlot> slots, string place) => Failures([.. slots.Select(slot => (place, slot))]);

    // A loop: iterators over pairs would be compiled anew at every start.
    private static List<string> Failures(IReadOnlyList<(string Place, PlannedSlot Slot)> slots)
    {
        List<string> failures = [];
        for (int i = 0; i < slots.Count; i++)
        {
            (string place, PlannedSlot slot) = slots[i];
            if (Fault(slot) is { } fault)
            {
                failures.Add($"{place}: {slot.Slot.Id} {fault} and is passed by");
            }
        }

        return failures;
    }

    internal IReadOnlyList<string> Missing { get; init; } = [];

    /// <summary>Processors that it does without from its start, switched on or not.</summary>
    internal IReadOnlyList<LackingProcessor> Lacking { get; init; } = [];

    /// <summary>What the outside processors in it have done so far; empty when there are none.</summary>
    public IReadOnlyList<OutsideUse> OutsideUses() => OutsideSlots.Length == 0 ? [] : [.. OutsideSlots.Select(Use)];

    /// <summary>The slots whose processors did not come with the program, each with the title of its song and its place there.</summary>
    internal (string Song, string Place, PlannedSlot Slot)[] OutsideSlots =>
        outsideSlots ??= FindOutsideSlots();

    private (string Song, string Place, PlannedSlot Slot)[] FindOutsideSlots()
    {
        List<(string Place, PlannedSlot Slot)> own = [];
        AddSlots(Side, own);
        List<(string Song, string Place, PlannedSlot Slot)> found = [];
        IReadOnlyList<(string Place, PlannedSlot Slot)> all = Slots();
        for (int i = 0; i < all.Count; i++)
        {
            (string place, PlannedSlot slot) = all[i];
            if (slot.Step is { } step && GuardedProcessor.ComesFromOutside(step.Processor))
            {
                // Those of the song itself come first.
                found.Add(((i < own.Count ? Song : InSide!.Song).Title, place, slot));
            }
        }

        return [.. found];
    }

    internal static OutsideUse Use((string Song, string Place, PlannedSlot Slot) entry)
    {
        (string song, string place, PlannedSlot slot) = entry;
        IsolatedProcessor? apart = slot.Step!.Processor as IsolatedProcessor;
        string? fault = Fault(slot);
        string? process = apart is { Deaths: { Times: > 0, Cause: { } cause } } ? $"its process has ended ({cause})" : apart is { Lapses: > 0 } ? "did not come back in time" : null;
        return new OutsideUse(song, place, slot.Slot.Processor, (fault is null ? 0 : 1) + (apart?.Lapses ?? 0), slot.Step.LostFrames, fault ?? process) { RanApart = apart is not null };
    }

    /// <summary>True when code of others runs in this process while the plan runs.</summary>
    internal bool RunsForeignCode => Plan.RunsForeignCode;

    /// <summary>Lets go of what its processors hold outside this process. It may not run any more.</summary>
    public void Release() => Release(OutsideSlots.Select(entry => entry.Slot));

    /// <summary>Lets go of what the processors of slots hold outside this process.</summary>
    internal static void Release(IEnumerable<PlannedSlot> slots)
    {
        foreach (IDisposable processor in slots.Select(slot => slot.Step?.Processor).OfType<IsolatedProcessor>())
        {
            processor.Dispose();
        }
    }

    internal Plan Plan { get; }

    /// <summary>The song.</summary>
    internal SongSide Side { get; }

    /// <summary>The song on the other side of a comparison; null when there is none or it is a file.</summary>
    internal SongSide? InSide { get; }

    internal IReadOnlyList<StemPath> Stems => Side.Stems;

    internal IReadOnlyList<PlannedSlot> BusSlots => Side.BusSlots;

    internal ChainTaps? BusTaps { get; init; }

    /// <summary>Every slot that runs, with the name of its place.</summary>
    internal IReadOnlyList<(string Place, PlannedSlot Slot)> Slots()
    {
        List<(string Place, PlannedSlot Slot)> slots = [];
        AddSlots(Side, slots);
        if (InSide is not null)
        {
            List<(string Place, PlannedSlot Slot)> others = [];
            AddSlots(InSide, others);
            slots.AddRange(others.Except(slots));
        }

        return slots;
    }

    /// <summary>What a slot's processor did that it is passed by for, in words; null when nothing.</summary>
    internal static string? Fault(PlannedSlot slot) => (slot.Step?.Fault ?? ProcessorFault.None) switch
    {
        ProcessorFault.None => null,
        ProcessorFault.Threw => "has failed (it threw an exception)",
        ProcessorFault.NotFinite => "has failed (it delivered what is no number)",
        ProcessorFault.TooLoud => "was louder than +24 dBFS",
        ProcessorFault.WroteOutside => "has failed (it wrote outside its block)",
        ProcessorFault.Hung => "did not come to an end",
        _ => "takes too long",
    };

    /// <summary>Rendering: reads the next frames of every stem to where the head of the plan takes them from.</summary>
    internal void ReadForHead(int frames)
    {
        foreach (StemPump pump in Sources.Pumps)
        {
            pump.ReadForPlan(frames);
        }
    }

    private static void AddSlots(SongSide side, List<(string Place, PlannedSlot Slot)> slots)
    {
        foreach (StemPath stem in side.Stems)
        {
            AddSlots(stem.Stem.Name, stem.Slots, slots);
            foreach (ParallelPath parallel in stem.Parallels)
            {
                AddSlots($"{stem.Stem.Name}, {parallel.Parallel.Name}", parallel.Slots, slots);
            }
        }

        AddSlots("song bus", side.BusSlots, slots);
    }

    private static void AddSlots(string place, IReadOnlyList<PlannedSlot> from, List<(string Place, PlannedSlot Slot)> slots)
    {
        foreach (PlannedSlot slot in from)
        {
            slots.Add((place, slot));
        }
    }
}

/// <summary>What the control side knows of one song in a running plan.</summary>
/// <param name="Song">What it was compiled from, links resolved.</param>
/// <param name="Stems">Its stems.</param>
/// <param name="BusSlots">The slots of its song chain that run for it.</param>
/// <param name="Sharing">What it takes from the first song of the plan; null for the first itself.</param>
internal sealed record SongSide(Song Song, IReadOnlyList<StemPath> Stems, IReadOnlyList<PlannedSlot> BusSlots, Sharing? Sharing);
