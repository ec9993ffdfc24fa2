using LiveStems.Analysis.Trusting;
using LiveStems.Analysis.Vetting;
using LiveStems.App.Terminal;
using LiveStems.Engine.Hosting;
using LiveStems.Processing.Catalogue;

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
        AssemblyFacts facts = assembly.Facts.Fault is { } fault ? throw new HostingException($"{assembly.Facts.File}: {fault}") : assembly.Facts;
        if (!asJson)
        {
            ProcessorsText.WriteFacts(output, assembly);
        }

        if (!isSure && !Asks("--trust", "Let it run with your own rights? [y/N] "))
        {
            throw new UsageException($"{Path.GetFileName(facts.File)} stays untrusted; nothing of it has run");
        }

        TrustOutcome outcome = WithProgress(report => ProcessorTrust.Trust(Processors.Host, assembly, report, interruption));
        ProcessorsText.WriteVetting(output, facts, outcome, asJson);
        return outcome.Refused.Count == 0 ? 0 : 1;
    }

    /// <summary>Says no, to one of several processors by its id, or to all of a file.</summary>
    public int Refuse(string idOrFile)
    {
        OutsideAssembly assembly = Single(idOrFile);
        Tell(ProcessorTrust.Refuse(Processors.Host, assembly, assembly.Processors.Contains(idOrFile) ? idOrFile : null));
        return 0;
    }

    /// <summary>Takes back whatever was decided.</summary>
    public int Forget(string idOrFile)
    {
        Tell(ProcessorTrust.Forget(Processors.Host, Single(idOrFile)));
        return 0;
    }

    /// <summary>Vets what may run already.</summary>
    public int Vet(string idOrFile)
    {
        if (BuiltInProcessors.Makers.FirstOrDefault(maker => maker.Description.Id == idOrFile) is { } own)
        {
            VettedProcessor result = ProcessorVetting.Examine(own, interruption);
            ProcessorsText.WriteVetting(output, null, new TrustOutcome([result], []), asJson);
            return result.Findings.Count == 0 ? 0 : 1;
        }

        OutsideAssembly assembly = Loaded(idOrFile, "--trust {0} vets it");
        TrustOutcome outcome = WithProgress(report => ProcessorTrust.VetAgain(Processors.Host, assembly, report, interruption));
        ProcessorsText.WriteVetting(output, assembly.Facts, outcome, asJson);
        return outcome.Vetting.Any(each => each.Findings.Count > 0) ? 1 : 0;
    }

    /// <summary>Says where a processor, by its id, or all processors of a file run: in a process of their own, or inside the program.</summary>
    public int Isolate(string idOrFile, bool isApart)
    {
        OutsideAssembly assembly = Loaded(idOrFile, "say yes to it first: --trust {0}");
        Tell(ProcessorTrust.Isolate(Processors.Host, assembly, assembly.Processors.Contains(idOrFile) ? idOrFile : null, isApart));
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
            : throw new UsageException(assembly.Fault is { } fault ? $"{file}: {fault}" : $"{file} is not trusted, so nothing of it runs; {string.Format(System.Globalization.CultureInfo.InvariantCulture, otherwise, PlainText.Argument(file))}");
    }

    private static TrustOutcome WithProgress(Func<Action<string, double>, TrustOutcome> vet)
    {
        using ProgressLine line = new();
        TrustOutcome outcome = vet((id, share) => line.Report($"vetting {id}", share));
        Processors.Forget();
        return outcome;
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
