using System.CommandLine;
using LiveStems.Analysis.Vetting;
using LiveStems.App.Terminal;
using LiveStems.Engine.Hosting;
using LiveStems.Processing.Catalogue;

namespace LiveStems.App.Verbs;

/// <summary><c>processors</c>: processors of others, what they ask for, and whether they may run.</summary>
internal static class ProcessorsVerb
{
    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Option<string?> trust = new("--trust") { Description = "Say yes to a file of the processors folder, or to the file with this processor's id. It is vetted first." };
        Option<string?> refuse = new("--refuse") { Description = "Say no to it." };
        Option<string?> vet = new("--vet") { Description = "Vet a trusted one again, or a built-in processor by its id." };
        Option<bool> yes = new("--yes") { Description = "With --trust: do not ask." };
        Option<bool> json = CommonOptions.Json();
        Command verb = new("processors", "Lists the processors of others in your processors folder, and lets you say which may run. Nothing in the folder runs before you have said yes; a file that has changed is asked about again.")
        {
            trust, refuse, vet, yes, json,
        };
        verb.AddExamples(
            "livestems processors",
            "livestems processors --trust Tilt.dll",
            "livestems processors --trust tilt --yes        for scripts",
            "livestems processors --vet tilt --json",
            "livestems processors --refuse Tilt.dll");
        verb.SetAction(parsed =>
        {
            TextWriter output = parsed.InvocationConfiguration.Output;
            (string? trusted, string? refused, string? vetted) = (parsed.GetValue(trust), parsed.GetValue(refuse), parsed.GetValue(vet));
            if (new[] { trusted, refused, vetted }.Count(each => each is not null) > 1)
            {
                throw new UsageException("--trust, --refuse and --vet are used one at a time");
            }

            bool asJson = parsed.GetValue(json);
            if (trusted is not null)
            {
                return Trust(Single(trusted), output, parsed.GetValue(yes), asJson, interruption);
            }

            if (refused is not null)
            {
                Refuse(Single(refused), output, asJson);
                return 0;
            }

            if (vetted is not null)
            {
                return Vet(vetted, output, asJson, interruption);
            }

            ProcessorsText.WriteAll(output, Processors.Host, HostingPlaces.OfUser, asJson);
            return 0;
        });
        return verb;
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

    private static int Trust(OutsideAssembly assembly, TextWriter output, bool isSure, bool asJson, CancellationToken interruption)
    {
        AssemblyFacts facts = assembly.Facts;
        if (facts.Fault is { } fault)
        {
            throw new HostingException($"{facts.File}: {fault}");
        }

        if (!asJson)
        {
            ProcessorsText.WriteFacts(output, assembly);
        }

        if (!isSure && !Asks(output, "Let it run with your own rights? [y/N] "))
        {
            throw new UsageException($"{Path.GetFileName(facts.File)} stays untrusted; nothing of it has run");
        }

        IReadOnlyList<ProcessorMaker> makers = OutsideLoader.Load(facts);
        if (makers.FirstOrDefault(maker => Processors.Catalogue.Find(maker.Description.Id) is not null && !assembly.Makers.Any(own => own.Description.Id == maker.Description.Id)) is { } twin)
        {
            throw new HostingException($"{facts.File}: its id '{twin.Description.Id}' belongs to another processor already; keep one of the two in the folder");
        }

        IReadOnlyList<VettedProcessor> vetting = [.. makers.Select(maker => ProcessorVetting.Examine(maker, interruption))];
        bool mayRun = vetting.All(each => !each.Findings.Any(finding => finding.IsRefusal));
        Processors.Host.Decide(facts, mayRun, [.. makers.Select(maker => maker.Description.Id)], vetting, DateTimeOffset.Now);
        Processors.Forget();
        ProcessorsText.WriteVetting(output, facts, vetting, mayRun, asJson);
        return mayRun ? 0 : 1;
    }

    private static bool Asks(TextWriter output, string question)
    {
        if (Console.IsInputRedirected)
        {
            throw new UsageException("--trust asks on a terminal; give --yes where there is none");
        }

        output.Write(question);
        return Console.ReadLine()?.Trim().ToLowerInvariant() is "y" or "yes";
    }

    private static void Refuse(OutsideAssembly assembly, TextWriter output, bool asJson)
    {
        Processors.Host.Decide(assembly.Facts, isTrusted: false, assembly.Processors, assembly.Trust?.Vetting, DateTimeOffset.Now);
        string file = Path.GetFileName(assembly.Facts.File);
        Processors.Forget();
        if (asJson)
        {
            ProcessorsText.WriteAll(output, Processors.Host, HostingPlaces.OfUser, asJson);
        }
        else
        {
            output.WriteLine($"{file} is refused: it does not run; albums that use it keep its settings and play without it");
        }
    }

    private static int Vet(string idOrFile, TextWriter output, bool asJson, CancellationToken interruption)
    {
        if (BuiltInProcessors.Makers.FirstOrDefault(maker => maker.Description.Id == idOrFile) is { } own)
        {
            VettedProcessor result = ProcessorVetting.Examine(own, interruption);
            ProcessorsText.WriteVetting(output, null, [result], true, asJson);
            return result.Findings.Count == 0 ? 0 : 1;
        }

        OutsideAssembly assembly = Single(idOrFile);
        string file = Path.GetFileName(assembly.Facts.File);
        if (assembly.State != OutsideState.Loaded)
        {
            throw new UsageException(assembly.Fault is { } fault ? $"{file}: {fault}" : $"{file} is not trusted, so nothing of it runs; --trust {file} vets it");
        }

        IReadOnlyList<VettedProcessor> vetting = [.. assembly.Makers.Select(maker => ProcessorVetting.Examine(maker, interruption))];
        bool mayRun = vetting.All(each => !each.Findings.Any(finding => finding.IsRefusal));
        Processors.Host.Decide(assembly.Facts, mayRun, assembly.Processors, vetting, DateTimeOffset.Now);
        Processors.Forget();
        ProcessorsText.WriteVetting(output, assembly.Facts, vetting, mayRun, asJson);
        return vetting.Any(each => each.Findings.Count > 0) ? 1 : 0;
    }
}
