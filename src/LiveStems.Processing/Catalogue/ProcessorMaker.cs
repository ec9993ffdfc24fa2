using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Catalogue;

/// <summary>A kind of processor and how to make one.</summary>
/// <param name="Description">What every processor that is made says of itself.</param>
/// <param name="Create">Makes one with every parameter at its default.</param>
public sealed record ProcessorMaker(ProcessorDescription Description, Func<Processor> Create)
{
    /// <summary>True when the processor's own code runs in another process.</summary>
    public bool RunsApart { get; init; }
}
