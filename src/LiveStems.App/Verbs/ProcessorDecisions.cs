using LiveStems.Analysis.Vetting;
using LiveStems.App.Terminal;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.App.Verbs;

/// <summary>What the user says about processors of others: yes, no, apart, my own; each returns the exit code.</summary>
internal sealed class ProcessorDecisions(TextWriter output, bool isSure, bool asJson, CancellationToken interruption)
{
    /// <summary>Shows all.</summary>
    public int List()
    {
        ProcessorsText.WriteAll(output, Processors.Host, HostingPlaces.OfUser, asJson);
        return 0;
    }

    /// <summary>Says yes, once it has been vetted.</summary>
    public int Trust(string idOrFile)
    {
        OutsideAssembly assembly = Single(idOrFile);
        AssemblyFacts facts = Usable(assembly);
        if (!asJson)
        {
            ProcessorsText.WriteFacts(output, assembly);
        }

        if (!isSure && !Asks("--trust", "Let it run with your own rights? [y/N] "))
        {
            throw new UsageException($"{Path.GetFileName(facts.File)} stays untrusted; nothing of it has run");
        }

        IReadOnlyList<ProcessorDescription> descriptions = IsolatedAssembly.Describe(facts);
        if (descriptions.FirstOrDefault(description => BelongsToAnother(description.Id, assembly)) is { } twin)
        {
            throw new HostingException($"{facts.File}: its id '{twin.Id}' belongs to another processor already; keep one of the two in the folder");
        }

        IReadOnlyList<VettedProcessor> vetting = VetApart(facts, [.. descriptions.Select(description => description.Id)]);
        string[] refused = RefusedBy(vetting);
        Keep(assembly, descriptions, vetting, refused);
        ProcessorsText.WriteVetting(output, facts, vetting, refused, asJson);
        return refused.Length == 0 ? 0 : 1;
    }

    /// <summary>Says no, to one of several processors by its id, or to all of a file.</summary>
    public int Refuse(string idOrFile)
    {
        OutsideAssembly assembly = Single(idOrFile);
        if (assembly.State == OutsideState.Loaded && assembly.Makers.Any(maker => maker.Description.Id != idOrFile) && assembly.Processors.Contains(idOrFile))
        {
            Keep(assembly, DescriptionsOf(assembly), assembly.Trust?.Vetting, [.. assembly.RefusedProcessors.Append(idOrFile).Distinct()]);
            Tell($"{idOrFile} of {Path.GetFileName(assembly.Facts.File)} is refused: it does not run, the others do; albums that use it keep its settings and play without it");
            return 0;
        }

        Keep(assembly, false, assembly.Processors, assembly.Trust?.Descriptions, assembly.Trust?.Vetting, []);
        Tell($"{Path.GetFileName(assembly.Facts.File)} is refused: it does not run; albums that use it keep its settings and play without it");
        return 0;
    }

    /// <summary>Vets what may run already.</summary>
    public int Vet(string idOrFile)
    {
        if (BuiltInProcessors.Makers.FirstOrDefault(maker => maker.Description.Id == idOrFile) is { } own)
        {
            VettedProcessor result = ProcessorVetting.Examine(own, interruption);
            ProcessorsText.WriteVetting(output, null, [result], [], asJson);
            return result.Findings.Count == 0 ? 0 : 1;
        }

        OutsideAssembly assembly = Loaded(idOrFile, "--trust {0} vets it");
        IReadOnlyList<VettedProcessor> vetting = VetApart(assembly.Facts, assembly.Processors);

        // The user's own no stands.
        string[] refused = [.. RefusedBy(vetting).Union(assembly.RefusedProcessors.Where(id => assembly.VettingOf(id)?.Refusal is null))];
        Keep(assembly, DescriptionsOf(assembly), vetting, refused);
        ProcessorsText.WriteVetting(output, assembly.Facts, vetting, refused, asJson);
        return vetting.Any(each => each.Findings.Count > 0) ? 1 : 0;
    }

    /// <summary>Says where a processor, by its id, or all processors of a file run: in a process of their own, or inside the program.</summary>
    public int Isolate(string idOrFile, bool isApart)
    {
        OutsideAssembly assembly = Loaded(idOrFile, "say yes to it first: --trust {0}");
        if (assembly.RefusedProcessors.Contains(idOrFile))
        {
            throw new UsageException($"{idOrFile} is refused, so it runs nowhere; --trust {Path.GetFileName(assembly.Facts.File)} vets all of its file again");
        }

        string[] all = [.. assembly.Makers.Select(maker => maker.Description.Id)];
        string[] meant = all.Contains(idOrFile) ? [idOrFile] : all;
        string[] before = assembly.IsIsolated ? all : [.. assembly.Isolated];
        string[] apart = [.. all.Where(id => meant.Contains(id) ? isApart : before.Contains(id))];
        OutsideAssembly decided = assembly with { IsIsolated = apart.Length == all.Length, Isolated = apart.Length == all.Length ? [] : apart };
        Keep(decided, DescriptionsOf(assembly), assembly.Trust?.Vetting, assembly.RefusedProcessors);
        string file = Path.GetFileName(assembly.Facts.File);
        string what = meant.Length == all.Length ? file : $"{idOrFile} of {file}";
        Tell(isApart
            ? $"{what} runs in a process of its own: its crash is a fade, a message and a restart; while playing it is one block later, which is compensated"
            : $"{what} runs inside the program, except where an album asks for a process of its own");
        return 0;
    }

    /// <summary>Says whether a file or folder is the user's own work.</summary>
    public int OwnWork(string fileOrFolder, bool isOwn)
    {
        string folder = HostingPlaces.OfUser.Folder;
        string path = Path.GetFullPath(fileOrFolder, folder);
        if (isOwn)
        {
            if (path == Path.TrimEndingDirectorySeparator(folder))
            {
                throw new UsageException($"not all of {folder}: whatever is put there would run unasked; give a file, or a folder inside it");
            }

            bool isFolder = Directory.Exists(path) && Path.GetDirectoryName(path) == folder;
            path = isFolder ? path : Single(fileOrFolder).Facts.File;
            if (!asJson)
            {
                output.WriteLine($"{PlainText.Of(path)}: every build of it will run with your own rights, without being asked about and without being vetted, and replace the one before while music plays. Say so only of what you build yourself.");
            }

            if (!isSure && !Asks("--author", "Is it your own work? [y/N] "))
            {
                throw new UsageException("nothing is changed");
            }
        }
        else
        {
            path = Directory.Exists(path) ? path : Processors.Host.Find(fileOrFolder).FirstOrDefault()?.Facts.File ?? path;
        }

        Processors.Host.DecideOwnWork(path, isOwn);
        Tell(isOwn ? $"{path} is your own work" : $"{path} asks again when it changes");
        return 0;
    }

    private static AssemblyFacts Usable(OutsideAssembly assembly) =>
        assembly.Facts.Fault is { } fault ? throw new HostingException($"{assembly.Facts.File}: {fault}") : assembly.Facts;

    private static string[] RefusedBy(IEnumerable<VettedProcessor> vetting) => [.. vetting.Where(each => each.Refusal is not null).Select(each => each.Processor)];

    private static IReadOnlyList<ProcessorDescription> DescriptionsOf(OutsideAssembly assembly) => [.. assembly.Makers.Concat(assembly.Refused).Select(maker => maker.Description)];

    private static bool BelongsToAnother(string id, OutsideAssembly assembly) =>
        Processors.Catalogue.Find(id) is not null && !assembly.Makers.Any(own => own.Description.Id == id);

    // A file of which nothing may run is refused as a whole.
    private static void Keep(OutsideAssembly assembly, IReadOnlyList<ProcessorDescription> descriptions, IReadOnlyList<VettedProcessor>? vetting, IReadOnlyList<string> refused)
    {
        bool mayRun = refused.Count < descriptions.Count;
        Keep(assembly, mayRun, [.. descriptions.Select(description => description.Id)], IsolatedAssembly.TextOf(descriptions), vetting, mayRun ? refused : []);
    }

    private static void Keep(OutsideAssembly assembly, bool mayRun, IReadOnlyList<string> processors, string? descriptions, IReadOnlyList<VettedProcessor>? vetting, IReadOnlyList<string> refused)
    {
        AssemblyFacts facts = assembly.Facts;
        Processors.Host.Decide(new TrustEntry(Path.GetFileName(facts.File), facts.Sha256, facts.Companions, mayRun, processors, DateTimeOffset.Now, vetting)
        {
            IsIsolated = assembly.IsIsolated,
            Isolated = assembly.Isolated.Count > 0 ? assembly.Isolated : null,
            Refused = refused.Count > 0 ? refused : null,
            Descriptions = descriptions,
        });
        Processors.Forget();
    }

    private static OutsideAssembly Single(string idOrFile)
    {
        ProcessorHost host = Processors.Host;
        if (host.StoreFault is { } fault)
        {
            throw new HostingException(fault);
        }

        OutsideAssembly[] found = [.. host.Find(idOrFile)];
        string folder = HostingPlaces.OfUser.Folder;
        return found switch
        {
            [] when host.Assemblies.Count == 0 => throw new UsageException($"no '{idOrFile}': there is nothing in {folder}; put the processor's .dll there"),
            [] => throw new UsageException($"no '{idOrFile}' in {folder}; there are {string.Join(", ", host.Assemblies.Select(each => Path.GetFileName(each.Facts.File)))}"),
            [var one] => one,
            _ => throw new UsageException($"'{idOrFile}' is in {string.Join(" and ", found.Select(each => each.Facts.File))}; give the path of one"),
        };
    }

    private static OutsideAssembly Loaded(string idOrFile, string otherwise)
    {
        OutsideAssembly assembly = Single(idOrFile);
        string file = Path.GetFileName(assembly.Facts.File);
        return assembly.State == OutsideState.Loaded ? assembly
            : throw new UsageException(assembly.Fault is { } fault ? $"{file}: {fault}" : $"{file} is not trusted, so nothing of it runs; {string.Format(System.Globalization.CultureInfo.InvariantCulture, otherwise, file)}");
    }

    private List<VettedProcessor> VetApart(AssemblyFacts facts, IReadOnlyList<string> ids)
    {
        using ProgressLine line = new();
        List<VettedProcessor> vetted = [];
        foreach (string id in ids)
        {
            line.Report($"vetting {id}", (double)vetted.Count / ids.Count);
            vetted.Add(OwnProcess.Vet(facts, id, interruption));
        }

        return vetted;
    }

    private bool Asks(string option, string question)
    {
        if (asJson)
        {
            throw new UsageException($"{option} with --json asks nothing; look at the file with 'livestems processors', then give --yes");
        }

        if (Console.IsInputRedirected)
        {
            throw new UsageException($"{option} asks on a terminal; give --yes where there is none");
        }

        output.Write(question);
        return Console.ReadLine()?.Trim().ToLowerInvariant() is "y" or "yes";
    }

    private void Tell(string words)
    {
        Processors.Forget();
        if (asJson)
        {
            List();
        }
        else
        {
            output.WriteLine(words);
        }
    }
}
