using LiveStems.Albums.Model;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Planning;

/// <summary>Turns a chain into steps over one buffer and adds up its latency.</summary>
internal sealed class ChainBuilder(ProcessorCatalogue catalogue, ProcessingFormat format, bool isLive, KeySources keys)
{
    /// <summary>The ends of the chain that was appended last; null in plans that nobody looks at.</summary>
    public ChainTaps? LastTaps { get; private set; }

    /// <summary>Slots whose processor the catalogue does not have: the sound passes them by.</summary>
    public List<string> MissingProcessors { get; } = [];

    /// <summary>
    /// Appends the chain's steps, and returns its latency in frames. <paramref name="startLatency"/> is what lies between
    /// the stems and the chain's input, which keys from other stems must wait for.
    /// </summary>
    public int Append(Chain chain, string place, StereoBuffer buffer, int startLatency, List<PlanStep> steps, List<PlannedSlot> slots)
    {
        int latency = 0;
        TapPoint? input = AddTap(buffer, steps);
        TapPoint? before = input;
        foreach (ChainSlot slot in chain.Slots)
        {
            Processor? processor = Create(slot, place);
            if (processor is null)
            {
                continue;
            }

            bool isBypassed = chain.Bypassed || slot.Bypassed;
            float wet = isBypassed ? 0 : (float)(slot.MixPercent / 100);
            if (wet == 0 && !isLive)
            {
                // Nothing can switch it on again: its latency goes with it.
                slots.Add(new PlannedSlot(slot, null));
                continue;
            }

            StereoBuffer? key = slot.KeyStem is null ? null : keys.Aligned(slot.KeyStem, startLatency + latency, steps);
            ProcessorStep step = new(processor, buffer, key, slot.Scope, wet, format, isLive);
            steps.Add(step);
            TapPoint? after = AddTap(buffer, steps);
            slots.Add(new PlannedSlot(slot, step) { Taps = Ends(before, after) });
            before = after;
            latency += processor.LatencyFrames;
        }

        LastTaps = Ends(input, ReferenceEquals(input, before) ? AddTap(buffer, steps) : before);
        return latency;
    }

    private static ChainTaps? Ends(TapPoint? input, TapPoint? output) => input is null || output is null ? null : new ChainTaps(input, output);

    private TapPoint? AddTap(StereoBuffer buffer, List<PlanStep> steps)
    {
        if (!isLive)
        {
            return null;
        }

        TapPoint point = new();
        steps.Add(new TapStep(buffer, point));
        return point;
    }

    private Processor? Create(ChainSlot slot, string place)
    {
        Processor? processor = catalogue.Create(slot.Processor);
        if (processor is null)
        {
            MissingProcessors.Add($"{place}: the processor '{slot.Processor}' is not here; the sound passes it by");
            return null;
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
        return processor;
    }
}
