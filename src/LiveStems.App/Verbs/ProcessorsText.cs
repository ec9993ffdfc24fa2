using System.Text.Json.Nodes;
using LiveStems.Analysis.Trusting;
using LiveStems.App.Terminal;
using LiveStems.Engine.Hosting;

namespace LiveStems.App.Verbs;

/// <summary>Processors of others, in words and for programs.</summary>
internal static class ProcessorsText
{
    private const int ShortHash = 12;
    private const int AboutLetters = 12;

    /// <summary>Every file of the folder.</summary>
    public static void WriteAll(TextWriter output, ProcessorHost host, HostingPlaces places, bool asJson)
    {
        IReadOnlyDictionary<string, ProcessorFaults> faults = FaultLog.Load(places);
        if (asJson)
        {
            JsonOutput.Write(output, new JsonObject
            {
                ["folder"] = places.Folder,
                ["decisions"] = places.TrustFile,
                ["decisionsFault"] = host.StoreFault,
                ["assemblies"] = JsonOutput.Array(host.Assemblies.Select(assembly => ToJson(assembly, faults))),
            });
            return;
        }

        output.WriteLine($"processors folder: {places.Folder}");
        if (host.StoreFault is { } fault)
        {
            output.WriteLine(fault);
        }

        if (host.Assemblies.Count == 0)
        {
            output.WriteLine("nothing in it; put a processor's .dll there and list again");
            return;
        }

        output.WriteLine();
        TextTable table = new("file", "state", "processors", "author says", "SHA-256", "asks for");
        foreach (OutsideAssembly assembly in host.Assemblies)
        {
            AssemblyFacts facts = assembly.Facts;
            table.Add(
                assembly.FileName, OutsideWords.State(assembly), OutsideWords.Names(assembly), OutsideWords.Author(facts),
                facts.Sha256[..Math.Min(ShortHash, facts.Sha256.Length)], facts.Fault is null ? OutsideWords.FewAsks(facts) : string.Empty);
        }

        table.WriteTo(output);
        foreach (OutsideAssembly assembly in host.Assemblies)
        {
            WriteNote(output, assembly);
            foreach ((string processor, ProcessorFaults so) in Faults(assembly, faults))
            {
                output.WriteLine($"{assembly.FileName}: {processor} so far: {OutsideWords.Of(so)}");
            }
        }
    }

    /// <summary>What a person should know before saying yes.</summary>
    public static void WriteFacts(TextWriter output, OutsideAssembly assembly)
    {
        foreach ((string about, string words) in OutsideWords.Facts(assembly))
        {
            output.WriteLine(about.PadRight(AboutLetters) + words);
        }
    }

    /// <summary>What vetting found.</summary>
    /// <param name="output">Where to write.</param>
    /// <param name="facts">The file; null for what comes with the program.</param>
    /// <param name="outcome">What was found, and what became of it.</param>
    /// <param name="asJson">For programs.</param>
    public static void WriteVetting(TextWriter output, AssemblyFacts? facts, TrustOutcome outcome, bool asJson)
    {
        if (asJson)
        {
            JsonObject result = facts is null ? [] : new JsonObject { ["file"] = facts.File, ["sha256"] = facts.Sha256 };
            result["mayRun"] = outcome.MayRun;
            result["refusedProcessors"] = JsonOutput.Array(outcome.Refused.Select(id => JsonValue.Create(id)));
            result["vetting"] = JsonOutput.Array(outcome.Vetting.Select(ToJson));
            JsonOutput.Write(output, result);
            return;
        }

        foreach (VettedProcessor processor in outcome.Vetting)
        {
            output.WriteLine($"{processor.Processor}: {OutsideWords.Verdict(processor)}");
            foreach (VettingFinding finding in processor.Findings)
            {
                output.WriteLine($"  {OutsideWords.Of(finding)}");
            }
        }

        if (facts is not null)
        {
            string file = PlainText.Of(Path.GetFileName(facts.File));
            output.WriteLine(outcome.MayRun ? $"{file} is trusted{OutsideWords.Without(outcome.Refused)}" : $"{file} does not run");
        }
    }

    private static void WriteNote(TextWriter output, OutsideAssembly assembly)
    {
        string file = assembly.FileName;
        if (assembly.Fault is { } fault)
        {
            output.WriteLine($"{file}: {PlainText.Of(fault)}");
        }
        else if (assembly.State is OutsideState.New or OutsideState.Changed)
        {
            output.WriteLine($"{file}: nothing of it runs until you say yes: livestems processors --trust {PlainText.Argument(file)}");
        }

        if (assembly.State is not (OutsideState.Loaded or OutsideState.Refused))
        {
            return;
        }

        foreach (string id in assembly.Processors)
        {
            string said = assembly.VettingOf(id) is { } vetted ? $"{OutsideWords.Verdict(vetted)}{string.Concat(vetted.Findings.Select(finding => $"; {PlainText.Of(finding.Words)}"))}"
                : assembly.State == OutsideState.Loaded ? $"not vetted; livestems processors --vet {PlainText.Argument(file)}"
                : string.Empty;
            if (said.Length > 0)
            {
                output.WriteLine($"{file}: {PlainText.Of(id, OutsideWords.MostLetters)} {said}{(OutsideWords.IsRefusedByUser(assembly, id) ? "; you have refused it" : string.Empty)}");
            }
        }
    }

    private static IEnumerable<(string Processor, ProcessorFaults Faults)> Faults(OutsideAssembly assembly, IReadOnlyDictionary<string, ProcessorFaults> faults) =>
        assembly.Processors.Where(faults.ContainsKey).Select(id => (id, faults[id]));

    private static JsonObject ToJson(OutsideAssembly assembly, IReadOnlyDictionary<string, ProcessorFaults> faults) => new()
    {
        ["file"] = assembly.Facts.File,
        ["name"] = assembly.Facts.Name,
        ["version"] = assembly.Facts.Version,
        ["author"] = assembly.Facts.Author,
        ["sha256"] = assembly.Facts.Sha256,
        ["companions"] = new JsonObject(assembly.Facts.Companions.Select(pair => KeyValuePair.Create(pair.Key, (JsonNode?)JsonValue.Create(pair.Value)))),
        ["contractVersion"] = assembly.Facts.ContractVersion?.ToString(3),
        ["types"] = JsonOutput.Array(assembly.Facts.Types.Select(type => JsonValue.Create(type))),
        ["asksFor"] = JsonOutput.Array(assembly.Facts.Asks.Select(word => JsonValue.Create(word))),
        ["state"] = assembly.State.ToString().ToLowerInvariant(),
        ["processors"] = JsonOutput.Array(assembly.Processors.Select(id => JsonValue.Create(id))),
        ["refusedProcessors"] = JsonOutput.Array(assembly.RefusedProcessors.Select(id => JsonValue.Create(id))),
        ["runsInItsOwnProcess"] = assembly.IsIsolated,
        ["processorsInTheirOwnProcess"] = JsonOutput.Array((assembly.IsIsolated ? assembly.Processors : assembly.Isolated).Select(id => JsonValue.Create(id))),
        ["isOwnWork"] = assembly.IsOwnWork,
        ["fault"] = assembly.Fault,
        ["faults"] = JsonOutput.Array(Faults(assembly, faults).Select(entry => new JsonObject
        {
            ["processor"] = entry.Processor,
            ["faults"] = entry.Faults.Faults,
            ["framesLost"] = entry.Faults.FramesLost,
            ["lastFault"] = entry.Faults.LastFault,
            ["lastAt"] = entry.Faults.LastAt,
        })),
        ["vetting"] = assembly.Decision?.Vetting is { } vetting ? JsonOutput.Array(vetting.Select(ToJson)) : null,
    };

    private static JsonObject ToJson(VettedProcessor processor) => new()
    {
        ["processor"] = processor.Processor,
        ["costNanosecondsPerFrame"] = processor.CostNanosecondsPerFrame,
        ["findings"] = JsonOutput.Array(processor.Findings.Select(finding => new JsonObject
        {
            ["check"] = finding.Check,
            ["severity"] = finding.IsRefusal ? "refused" : "marked",
            ["words"] = finding.Words,
        })),
    };
}
