using LiveStems.Dsp.Simd;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.RealTime.Steps;

/// <summary>Steps of several paths whose processors run side by side; the same bits as one step after the other.</summary>
internal sealed class ProcessorStepGroup : PlanStep
{
    private readonly ProcessorStep[] steps;
    private readonly ProcessorGroup processors;
    private readonly PlanarStereo[] sounds;

    private ProcessorStepGroup(ProcessorStep[] steps, ProcessorGroup processors)
    {
        this.steps = steps;
        this.processors = processors;
        sounds = new PlanarStereo[steps.Length];
        for (int i = 0; i < sounds.Length; i++)
        {
            sounds[i] = steps[i].Sound;
        }
    }

    /// <summary>The steps as a group, or null when their kind of processor has none.</summary>
    public static ProcessorStepGroup? Of(ProcessorStep[] steps) =>
        steps[0].Processor.GroupOf([.. steps.Select(step => step.Processor)]) is { } processors
            ? new ProcessorStepGroup(steps, processors)
            : null;

    /// <inheritdoc/>
    public override void Run(in PlanBlock block)
    {
        bool areTogether = true;
        foreach (ProcessorStep step in steps)
        {
            areTogether &= step.PrepareForGroup();
        }

        if (!areTogether)
        {
            foreach (ProcessorStep step in steps)
            {
                step.Run(block);
            }

            return;
        }

        bool hasThrown = false;
        try
        {
            processors.Process(sounds, block.Frames);
        }
        catch (Exception)
        {
            hasThrown = true;
        }

        foreach (ProcessorStep step in steps)
        {
            step.FinishInGroup(block, hasThrown);
        }
    }

    /// <inheritdoc/>
    public override void Reset()
    {
        foreach (ProcessorStep step in steps)
        {
            step.Reset();
        }
    }
}
