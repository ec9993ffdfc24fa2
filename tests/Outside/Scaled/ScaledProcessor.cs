using LiveStems.Processing.Contract;

namespace Outside.Scaled;

/// <summary>Multiplies by a number that stands in the code: another build of it is told by its sound.</summary>
public sealed class ScaledProcessor : Processor
{
    private static readonly ProcessorDescription Kind = new("outside-scaled", "Outside scaled", 1, "Multiplies by a number.", [], false);

    /// <summary>Ready to be prepared.</summary>
    public ScaledProcessor()
        : base(Kind)
    {
    }

    /// <inheritdoc/>
    protected override void OnPrepare()
    {
    }

    /// <inheritdoc/>
    protected override void OnReset()
    {
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved()
    {
    }

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        for (int i = 0; i < segment.Frames; i++)
        {
            segment.Left[i] *= 0.375f;
            segment.Right[i] *= 0.375f;
        }
    }
}
