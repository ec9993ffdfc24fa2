using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Catalogue;

/// <summary>A kind of processor and how to make one.</summary>
/// <param name="Description">What every processor that is made says of itself.</param>
/// <param name="Create">Makes one with every parameter at its default.</param>
public sealed record ProcessorMaker(ProcessorDescription Description, Func<Processor> Create)
{
    /// <summary>True when the code of every processor that <see cref="Create"/> makes runs in another process.</summary>
    public bool RunsApart { get; init; }

    /// <summary>Makes one whose code runs in another process; null where it cannot.</summary>
    public Func<Processor>? CreateApart { get; init; }

    /// <summary>Tells one build of a processor of others from the next, whatever version it says it is; empty for what comes with the program.</summary>
    public string Build { get; init; } = string.Empty;
}
