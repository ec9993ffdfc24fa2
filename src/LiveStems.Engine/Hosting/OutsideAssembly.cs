using LiveStems.Processing.Catalogue;

namespace LiveStems.Engine.Hosting;

/// <summary>One file of the processors folder and how it stands.</summary>
/// <param name="Facts">What it says of itself.</param>
/// <param name="State">How it stands.</param>
/// <param name="Trust">The decision about it, or about an earlier content; null without one.</param>
/// <param name="Makers">Its processors; empty unless it is loaded, or was when it changed while the program runs.</param>
/// <param name="Fault">Why it is not loaded, one line; null where there is nothing to say.</param>
public sealed record OutsideAssembly(
    AssemblyFacts Facts, OutsideState State, TrustEntry? Trust, IReadOnlyList<ProcessorMaker> Makers, string? Fault)
{
    /// <summary>Name of the file, to be read by a person.</summary>
    public string FileName => PlainText.Of(Path.GetFileName(Facts.File));

    /// <summary>True when all its processors run in a process of their own, so that nothing of it is ever loaded into the program.</summary>
    public bool IsIsolated { get; init; }

    /// <summary>Ids of those that run in a process of their own where not all do.</summary>
    public IReadOnlyList<string> Isolated { get; init; } = [];

    /// <summary>Those of its processors that do not run although the others do.</summary>
    public IReadOnlyList<ProcessorMaker> Refused { get; init; } = [];

    /// <summary>True when it is the user's own work, of which every build is trusted.</summary>
    public bool IsOwnWork { get; init; }

    /// <summary>True when its processors run where those of another look at the same file do.</summary>
    internal bool RunsWhere(OutsideAssembly other) => IsIsolated == other.IsIsolated && Isolated.SequenceEqual(other.Isolated);

    /// <summary>Ids of its processors as far as they are known: nobody knows them before it has been loaded once.</summary>
    public IReadOnlyList<string> Processors => Makers.Count > 0 ? [.. Makers.Concat(Refused).Select(maker => maker.Description.Id)] : Trust?.Processors ?? [];

    /// <summary>Ids of those that do not run although the others do.</summary>
    public IReadOnlyList<string> RefusedProcessors => [.. Refused.Select(maker => maker.Description.Id)];

    /// <summary>The decision about this very content; null without one.</summary>
    public TrustEntry? Decision => Trust is { } trust && trust.IsAbout(Facts) ? trust : null;

    /// <summary>What the decision about this very content says that vetting found of a processor; null where there is none.</summary>
    public VettedProcessor? VettingOf(string processor) => Decision?.VettingOf(processor);

    /// <summary>
    /// What vetting found for which one of those that do not run is refused; null when the user has refused it. What plays on
    /// after its file has changed was vetted with the content that it had.
    /// </summary>
    public VettingFinding? RefusalOf(string processor) => Trust?.VettingOf(processor)?.Refusal;
}
