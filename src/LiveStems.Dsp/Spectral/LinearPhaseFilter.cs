using LiveStems.Dsp.Filters;

namespace LiveStems.Dsp.Spectral;

/// <summary>
/// Stereo sound through the magnitude of a chain of sections, without their phase: every frequency is delayed alike, by
/// <see cref="LatencyFrames"/>. Other sections may be set while sound runs.
/// </summary>
/// <remarks>
/// The taps of other sections are made in portions of bounded size, one each time <see cref="Advance"/> is called, beside the
/// sound that still goes through the earlier ones; then the output fades over within one partition. Both have the same delay
/// at all frequencies, so nothing cancels in the fade. All memory is taken by the constructor.
/// </remarks>
public sealed class LinearPhaseFilter
{
    private readonly LinearPhaseTaps taps;
    private readonly PartitionedConvolver convolver;
    private ConvolutionFilter used;
    private ConvolutionFilter spare;
    private int transformed;
    private Stage stage;

    /// <summary>Takes all memory; the sound passes through nothing but silence until sections are set.</summary>
    /// <param name="length">Taps, a power of two from 1,024 to 65,536.</param>
    /// <param name="partitionFrames">Frames of a partition, a power of two, at least 32 and at most the length.</param>
    /// <param name="maximumSections">The longest chain of sections.</param>
    public LinearPhaseFilter(int length, int partitionFrames, int maximumSections)
    {
        taps = new LinearPhaseTaps(length, maximumSections);
        used = new ConvolutionFilter(partitionFrames, length);
        spare = new ConvolutionFilter(partitionFrames, length);
        convolver = new PartitionedConvolver(used, used);
        LatencyFrames = length / 2 + partitionFrames;
    }

    private enum Stage
    {
        Idle,
        Taps,
        Partitions,
    }

    /// <summary>Frames between input and output, at every frequency.</summary>
    public int LatencyFrames { get; }

    /// <summary>True until the sections set last are heard alone; meanwhile no others can be set.</summary>
    public bool IsBusy => stage != Stage.Idle || convolver.IsFading;

    /// <summary>Takes sections at once, as from silence.</summary>
    public void Jump(ReadOnlySpan<StateVariableCoefficients> sections)
    {
        convolver.Reset();
        Begin(sections);
        while (stage != Stage.Idle)
        {
            Advance();
        }

        convolver.Reset();
    }

    /// <summary>State as if from silence; sections that were being made are given up.</summary>
    public void Reset()
    {
        stage = Stage.Idle;
        convolver.Reset();
    }

    /// <summary>Begins to make the taps of other sections; only while not busy.</summary>
    public void Begin(ReadOnlySpan<StateVariableCoefficients> sections)
    {
        taps.Start(sections);
        stage = Stage.Taps;
    }

    /// <summary>Does the next portion of the work on taps, if there is any.</summary>
    public void Advance()
    {
        if (stage == Stage.Taps && taps.Advance())
        {
            spare.Begin(taps.Taps.Length);
            transformed = 0;
            stage = Stage.Partitions;
        }
        else if (stage == Stage.Partitions)
        {
            spare.SetPart(transformed++, taps.Taps);
            if (transformed == spare.UsedPartitions)
            {
                (used, spare) = (spare, used);
                convolver.Use(used, used);
                stage = Stage.Idle;
            }
        }
    }

    /// <summary>Filters both channels, of equal length, in place.</summary>
    public void Process(Span<float> left, Span<float> right) => convolver.Process(left, right);
}
