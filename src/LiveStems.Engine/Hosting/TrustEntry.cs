using System.Text.Json.Serialization;

namespace LiveStems.Engine.Hosting;

/// <summary>What the user decided about one file with one content.</summary>
/// <param name="File">Name of the file when it was decided.</param>
/// <param name="Sha256">Its SHA-256.</param>
/// <param name="Companions">SHA-256 of the files beside it that it needs, by name.</param>
/// <param name="IsTrusted">True when it may run, false when it was refused.</param>
/// <param name="Processors">Ids of the processors in it, once they are known.</param>
/// <param name="DecidedAt">When.</param>
/// <param name="Vetting">What its examination found; null when it has not been vetted.</param>
public sealed record TrustEntry(
    string File,
    string Sha256,
    IReadOnlyDictionary<string, string> Companions,
    bool IsTrusted,
    IReadOnlyList<string> Processors,
    DateTimeOffset DecidedAt,
    IReadOnlyList<VettedProcessor>? Vetting)
{
    /// <summary>True when all its processors run in a process of their own, so that nothing of it is ever loaded into the program.</summary>
    public bool IsIsolated { get; init; }

    /// <summary>Ids of those that run in a process of their own where not all do; null for none.</summary>
    public IReadOnlyList<string>? Isolated { get; init; }

    /// <summary>Ids of those that do not run although the others of the file may; null for none.</summary>
    public IReadOnlyList<string>? Refused { get; init; }

    /// <summary>What its processors are, as text, so that they can be listed without running it; null when nobody has asked yet.</summary>
    public string? Descriptions { get; init; }

    /// <summary>True when the decision is about this very content.</summary>
    public bool IsAbout(AssemblyFacts facts) => IsAbout(facts.Sha256, facts.Companions);

    /// <summary>What vetting found about one of its processors; null where it has not been vetted.</summary>
    public VettedProcessor? VettingOf(string processor) => Vetting?.FirstOrDefault(each => each.Processor == processor);

    /// <summary>True when both are about the same content, whatever the file was called.</summary>
    internal bool IsAboutTheSame(TrustEntry other) => IsAbout(other.Sha256, other.Companions);

    private bool IsAbout(string sha256, IReadOnlyDictionary<string, string> companions) =>
        Sha256 == sha256
        && Companions.Count == companions.Count
        && Companions.All(pair => companions.TryGetValue(pair.Key, out string? each) && each == pair.Value);
}

/// <summary>What vetting found about one processor.</summary>
/// <param name="Processor">Its id.</param>
/// <param name="CostNanosecondsPerFrame">What a stereo frame costs, in blocks of 256.</param>
/// <param name="Findings">What is wrong; empty when nothing.</param>
public sealed record VettedProcessor(string Processor, double CostNanosecondsPerFrame, IReadOnlyList<VettingFinding> Findings)
{
    /// <summary>What forbids that it runs; null when nothing does.</summary>
    [JsonIgnore]
    public VettingFinding? Refusal => Findings.FirstOrDefault(finding => finding.IsRefusal);
}

/// <summary>One thing that is wrong with a processor.</summary>
/// <param name="Check">Which promise of the contract it breaks: <c>allocation</c>, <c>latency</c>, <c>reset</c>, <c>blocks</c>…</param>
/// <param name="IsRefusal">True when it must not run at all; false when it may, marked.</param>
/// <param name="Words">What was found, for the user.</param>
public sealed record VettingFinding(string Check, bool IsRefusal, string Words);
