using System.Globalization;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Planning;

namespace LiveStems.Analysis.Trusting;

/// <summary>What there is to say about the files of the processors folder, for people. What a file says of itself is plain text.</summary>
public static class OutsideWords
{
    /// <summary>What an author says of himself is a name, not a page: the longest that is shown, in letters.</summary>
    public const int MostLetters = 120;

    private const string NoAsks = "nothing beyond arithmetic";
    private const int FewNames = 3;
    private const int ManyNames = 20;

    /// <summary>How a file stands: "not trusted", "trusted, marked, own process".</summary>
    public static string State(OutsideAssembly assembly) => assembly.State switch
    {
        OutsideState.New => "not trusted",
        OutsideState.Changed => "changed, asks again",
        OutsideState.Refused => "refused",
        OutsideState.Loaded => string.Concat(
            assembly.IsOwnWork ? "your own work" : "trusted",
            IsMarked(assembly) ? ", marked" : string.Empty,
            Without(assembly.RefusedProcessors),
            assembly.IsIsolated ? ", own process" : assembly.Isolated.Count > 0 ? $", {string.Join(", ", assembly.Isolated)} in its own process" : string.Empty),
        _ => "cannot be loaded",
    };

    /// <summary>True when vetting has marked one that runs.</summary>
    public static bool IsMarked(OutsideAssembly assembly) => assembly.Makers.Any(maker => assembly.VettingOf(maker.Description.Id) is { Findings.Count: > 0 });

    /// <summary>True when one of several processors does not run because the user said so, not because of what vetting found.</summary>
    public static bool IsRefusedByUser(OutsideAssembly assembly, string id) => assembly.RefusedProcessors.Contains(id) && assembly.RefusalOf(id) is null;

    /// <summary>Whether and where a processor of a file runs: "runs in its own process", "does not run: you have refused it".</summary>
    public static string Running(OutsideAssembly assembly, string id)
    {
        string plays = assembly.State == OutsideState.Loaded ? "runs" : "plays on as it was";
        return assembly.Makers.FirstOrDefault(maker => maker.Description.Id == id) is { } maker ? maker.RunsApart ? $"{plays} in its own process" : $"{plays} inside the program"
            : IsRefusedByUser(assembly, id) ? "does not run: you have refused it"
            : assembly.RefusedProcessors.Contains(id) && assembly.RefusalOf(id) is { } refusal ? $"does not run: it {PlainText.Of(refusal.Words)}"
            : "does not run";
    }

    /// <summary>", without x and y", for what follows a trusted file; empty when all of it runs.</summary>
    public static string Without(IReadOnlyList<string> refused) => refused.Count == 0 ? string.Empty : $", without {Few(refused, FewNames)}";

    /// <summary>Its processors, as far as they are known, or the classes that they are; the first few.</summary>
    public static string Names(OutsideAssembly assembly)
    {
        IReadOnlyList<string> names = assembly.Processors.Count > 0 ? assembly.Processors : [.. assembly.Facts.Types.Select(type => type[(type.LastIndexOf('.') + 1)..])];
        return Few(names, FewNames);
    }

    /// <summary>Who its author says made it; empty when it does not say.</summary>
    public static string Author(AssemblyFacts facts) => PlainText.Of(facts.Author, MostLetters);

    /// <summary>What it refers to beyond arithmetic.</summary>
    public static string Asks(AssemblyFacts facts) => facts.Asks.Count == 0 ? NoAsks : string.Join(", ", facts.Asks);

    /// <summary>The first few of what it refers to beyond arithmetic.</summary>
    public static string FewAsks(AssemblyFacts facts) => facts.Asks.Count == 0 ? NoAsks : Few(facts.Asks, FewNames);

    /// <summary>What a person should know before saying yes: what it is about, and the words.</summary>
    public static IEnumerable<(string About, string Words)> Facts(OutsideAssembly assembly)
    {
        AssemblyFacts facts = assembly.Facts;
        yield return ("file", PlainText.Of(facts.File));
        if (facts.Types.Count > 0)
        {
            yield return ("name", $"{PlainText.Of(facts.Name, MostLetters)} {PlainText.Of(facts.Version, MostLetters)}, {facts.Types.Count} processor{(facts.Types.Count == 1 ? string.Empty : "s")}: {Few(facts.Types, ManyNames)}");
            yield return ("author", facts.Author.Length == 0 ? "does not say" : $"{Author(facts)} (as the file says; nothing proves it)");
        }

        yield return ("SHA-256", facts.Sha256);
        foreach ((string file, string sha256) in facts.Companions)
        {
            yield return ("with", $"{PlainText.Of(file, MostLetters)} {sha256}");
        }

        if (facts.Types.Count > 0)
        {
            yield return ("built for", $"LiveStems.Processing {facts.ContractVersion?.ToString(3)}");
            yield return ("asks for", Asks(facts));
        }

        if (assembly.State == OutsideState.Changed)
        {
            yield return ("changed", $"another content of this file was {(assembly.Trust!.IsTrusted ? "trusted" : "refused")} on {assembly.Trust.DecidedAt:yyyy-MM-dd}");
        }
    }

    /// <summary>What came of vetting a processor: "keeps the contract, 12.3 ns a frame".</summary>
    public static string Verdict(VettedProcessor processor) => string.Concat(
        processor.Findings.Count == 0 ? "keeps the contract" : processor.Refusal is not null ? "refused" : "marked",
        processor.CostNanosecondsPerFrame > 0 ? string.Create(CultureInfo.InvariantCulture, $", {processor.CostNanosecondsPerFrame:0.0} ns a frame") : string.Empty);

    /// <summary>One finding with its severity.</summary>
    public static string Of(VettingFinding finding) => $"{(finding.IsRefusal ? "refused" : "marked")}: {PlainText.Of(finding.Words)}";

    /// <summary>What a processor has done wrong in all runs so far.</summary>
    public static string Of(ProcessorFaults so) =>
        $"{OutsideUse.Count(so.Faults, so.FramesLost)}; last, on {so.LastAt:yyyy-MM-dd}: {PlainText.Of(so.LastFault ?? "it was late")}";

    private static string Few(IReadOnlyList<string> names, int most) =>
        string.Join(", ", names.Take(most).Select(name => PlainText.Of(name, MostLetters))) + (names.Count > most ? $" and {names.Count - most} more" : string.Empty);
}
