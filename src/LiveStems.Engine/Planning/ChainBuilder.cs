using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Planning;

/// <summary>Turns a chain into steps over one buffer and adds up its latency.</summary>
internal sealed class ChainBuilder(ProcessorCatalogue catalogue, ProcessingFormat format, PlanOptions options, bool keepsBypassed, KeySources keys)
{
    /// <summary>The ends of the chain that was appended last; null in plans that nobody looks at.</summary>
    public ChainTaps? LastTaps { get; private set; }

    /// <summary>Slots whose processor the catalogue does not have, or that cannot be prepared: the sound passes them by.</summary>
    public List<LackingProcessor> Lacking { get; } = [];

    /// <summary>Those of them that are switched on: without them the sound is not what was set.</summary>
    public List<string> PassedBy { get; } = [];

    /// <summary>
    /// Appends the chain's steps, and returns its latency in frames. <paramref name="startLatency"/> is what lies between
    /// the stems and the chain's input, which keys from other stems must wait for; <paramref name="firstSlot"/> is the first
    /// processor that is not already in the buffer.
    /// </summary>
    public int Append(
        Chain chain,
        string place,
        StereoBuffer buffer,
        int startLatency,
        List<PlanStep> steps,
        List<PlannedSlot> slots,
        int firstSlot = 0,
        ChainSplit? split = null)
    {
        int latency = 0;
        TapPoint? input = AddTap(buffer, steps);
        TapPoint? before = input;
        for (int i = firstSlot; i < chain.Slots.Length; i++)
        {
            Split(split, i, buffer, latency, steps);
            latency += Append(chain, chain.Slots[i], place, buffer, startLatency + latency, steps, slots, ref before);
        }

        Split(split, chain.Slots.Length, buffer, latency, steps);
        LastTaps = Ends(input, ReferenceEquals(input, before) ? AddTap(buffer, steps) : before);
        return latency;
    }

    private static ChainTaps? Ends(TapPoint? input, TapPoint? output) => input is null || output is null ? null : new ChainTaps(input, output);

    private TapPoint? AddTap(StereoBuffer buffer, List<PlanStep> steps)
    {
        if (!options.IsLive || !keepsBypassed)
        {
            return null;
        }

        TapPoint point = new();
        steps.Add(new TapStep(buffer, point));
        return point;
    }

    private static void Split(ChainSplit? split, int slot, StereoBuffer buffer, int latency, List<PlanStep> steps)
    {
        if (split?.Slots == slot)
        {
            steps.Add(new CopyStep(buffer, split.Buffer, 0));
            split.LatencyFrames = latency;
        }
    }

    private int Append(
        Chain chain,
        ChainSlot slot,
        string place,
        StereoBuffer buffer,
        int latency,
        List<PlanStep> steps,
        List<PlannedSlot> slots,
        ref TapPoint? before)
    {
        PreparedProcessor? prepared = Create(slot, place);
        bool isBypassed = chain.Bypassed || slot.Bypassed;
        float wet = isBypassed ? 0 : (float)(slot.MixPercent / 100);
        if (prepared is null)
        {
            PassedBy.AddRange(wet > 0 ? [Lacking[^1].Words] : []);
            return 0;
        }

        if (wet == 0 && !keepsBypassed)
        {
            // Nothing can switch it on again: its latency goes with it, and what it holds outside this process.
            (prepared.Processor as IsolatedProcessor)?.Dispose();
            slots.Add(new PlannedSlot(slot, null));
            return 0;
        }

        StereoBuffer? key = slot.KeyStem is null ? null : keys.Aligned(slot.KeyStem, latency, steps);
        ProcessorBudget? budget = options.Clock is null ? null : new ProcessorBudget(options.Clock, format.SampleRate);
        ProcessorStep step = new(prepared, buffer, key, slot.Scope, wet, format, options.IsLive, budget) { Guard = options.Guard, Patience = options.Patience };
        steps.Add(step);
        TapPoint? after = AddTap(buffer, steps);
        slots.Add(new PlannedSlot(slot, step) { Taps = Ends(before, after) });
        before = after;
        return prepared.LatencyFrames;
    }

    private PreparedProcessor? Create(ChainSlot kept, string place)
    {
        ChainSlot slot = KeptSettings.Read(kept, catalogue);
        if (KeptSettings.FaultOf(slot, catalogue) is { } unfit)
        {
            Lacking.Add(new LackingProcessor(place, slot.Id, slot.Processor, unfit));
            return null;
        }

        try
        {
            return BuiltInProcessors.Catalogue.Find(slot.Processor) is not null ? SetUp(slot) : OutsidePreparation.Run(catalogue, slot, () => SetUp(slot));
        }
        catch (Exception fault) when (BuiltInProcessors.Catalogue.Find(slot.Processor) is null)
        {
            // Whatever an outside processor throws, the song is played without it.
            string words = PlainText.Of((fault.InnerException ?? fault).Message);
            Lacking.Add(new LackingProcessor(place, slot.Id, slot.Processor, $"cannot be prepared ({words})"));
            return null;
        }
    }

    private PreparedProcessor SetUp(ChainSlot slot)
    {
        Processor processor = catalogue.Create(slot.Processor, slot.OwnProcess)!;
        if (processor is IsolatedProcessor isolated)
        {
            isolated.IsLive = options.IsLive;
        }

        foreach ((string id, double value) in slot.Parameters)
        {
            int index = processor.Description.IndexOf(id);
            if (index >= 0)
            {
                processor.SetParameter(index, value);
            }
        }

        processor.Prepare(format);

        // Of one in a process of its own the latency has been looked at there, and is longer here by what lies on the way.
        return new PreparedProcessor(processor, processor is IsolatedProcessor ? processor.LatencyFrames : DeclaredLatency.Of(processor, format));
    }
}
