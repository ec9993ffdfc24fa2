using LiveStems.Processing.Contract;

namespace MyProcessors;

/// <summary>Turns the sound up or down: the least that a processor can be.</summary>
public sealed class MyProcessor : Processor
{
    private static readonly ProcessorDescription Kind = new(
        "my-processor",
        "My processor",
        1,
        "Turns the sound up or down.",
        [new ParameterSpec("gainDb", "Gain", ParameterUnit.Decibels, -24, 12, 0, Taper.Linear, "How much louder or softer.")],
        ListensToKey: false);

    private double gain;
    private double earlierGain;

    /// <summary>With every parameter at its default.</summary>
    public MyProcessor()
        : base(Kind)
    {
    }

    /// <summary>Allocate everything here.</summary>
    protected override void OnPrepare()
    {
    }

    /// <summary>Clear all state, and compute what follows from the parameters.</summary>
    protected override void OnReset() => earlierGain = gain = Math.Pow(10, Value(0) / 20);

    /// <summary>A parameter has moved by one step of its glide; a step is 32 frames.</summary>
    protected override void OnParametersMoved()
    {
        earlierGain = gain;
        gain = Math.Pow(10, Value(0) / 20);
    }

    /// <summary>Change the sound in place. No allocation, no lock, no waiting, no files, no exception.</summary>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        for (int i = 0; i < segment.Frames; i++)
        {
            // While a parameter glides, a segment lies within one step: go straight from the gain before to the gain now.
            double share = IsGliding ? (IntervalPosition + i + 1) / (double)ControlInterval : 1;
            float now = (float)(earlierGain + share * (gain - earlierGain));
            segment.Left[i] *= now;
            segment.Right[i] *= now;
        }
    }
}
