using LiveStems.Processing.Contract;

namespace Outside.DiesAtOnce;

/// <summary>Dies in its static constructor.</summary>
public sealed class DiesAtOnceProcessor : Processor
{
    private static readonly ProcessorDescription Kind = Fail();

    /// <summary>Never comes so far.</summary>
    public DiesAtOnceProcessor()
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
    }

    private static ProcessorDescription Fail() => throw new InvalidOperationException("the tide is out");
}
