using LiveStems.Engine.Hosting;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Trusting;

/// <summary>
/// What the user says about a file of the processors folder: yes, no, apart, forgotten. Commands and the window say it alike.
/// Nothing of a file runs in this process before it has been vetted in another one, after a yes.
/// </summary>
public static class ProcessorTrust
{
    // Its process has half of that to say so by itself.
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(1);

    // One decision after the other: what has been called off keeps nothing once a later one is kept.
    private static readonly Lock Deciding = new();

    /// <summary>
    /// Keeps a yes, once the file has been vetted; without those of which vetting found that they must not run; where that is all of them, a no. Takes some seconds for each
    /// processor. Whoever asks has shown what the file says of itself before.
    /// </summary>
    /// <param name="host">The folder as it was shown.</param>
    /// <param name="assembly">The file as it was shown; another content by now is refused.</param>
    /// <param name="progress">Told which processor is vetted, and the share done before; may be null.</param>
    /// <param name="cancellation">Calls it off; nothing is decided then.</param>
    /// <exception cref="HostingException">The file cannot be loaded, an id of it is taken, something else was said about it meanwhile, or the decision cannot be written.</exception>
    /// <exception cref="OperationCanceledException">It was called off.</exception>
    public static TrustOutcome Trust(ProcessorHost host, OutsideAssembly assembly, Action<string, double>? progress, CancellationToken cancellation)
    {
        AssemblyFacts facts = assembly.Facts;
        if ((host.StoreFault ?? (facts.Fault is null ? null : $"{facts.File}: {facts.Fault}")) is { } fault)
        {
            throw new HostingException(fault);
        }

        TrustEntry? before = host.DecisionAbout(assembly);

        // It may hang: who calls it off does not wait for that.
        IReadOnlyList<ProcessorDescription> descriptions = Bounded.Run(() => IsolatedAssembly.Describe(facts), Patience, $"{assembly.FileName} does not say what processors are in it", cancellation);
        return descriptions.FirstOrDefault(description => BelongsToAnother(host, description.Id, assembly)) is { } twin
            ? throw new HostingException($"{facts.File}: its id '{twin.Id}' belongs to another processor already; keep one of the two in the folder")
            : Decide(host, assembly, before, descriptions, keepsRefused: false, progress, cancellation);
    }

    /// <summary>Vets a file that runs already; what must not run is refused from then on, and so is still what the user refused.</summary>
    /// <param name="host">The folder.</param>
    /// <param name="assembly">A loaded file of it.</param>
    /// <param name="progress">Told which processor is vetted, and the share done before; may be null.</param>
    /// <param name="cancellation">Calls it off; all stays as it was then.</param>
    /// <exception cref="HostingException">Something else was said about it meanwhile, or the decision cannot be written.</exception>
    /// <exception cref="OperationCanceledException">It was called off.</exception>
    public static TrustOutcome VetAgain(ProcessorHost host, OutsideAssembly assembly, Action<string, double>? progress, CancellationToken cancellation) =>
        Decide(host, assembly, host.DecisionAbout(assembly), Descriptions(assembly), keepsRefused: true, progress, cancellation);

    /// <summary>Keeps a no, to one of several processors or to all of a file; says what follows from it.</summary>
    /// <param name="host">The folder.</param>
    /// <param name="assembly">A file of it.</param>
    /// <param name="id">One of its processors, or null for all.</param>
    /// <exception cref="HostingException">None of it may run by now, or the decision cannot be written.</exception>
    public static string Refuse(ProcessorHost host, OutsideAssembly assembly, string? id)
    {
        lock (Deciding)
        {
            TrustEntry? now = host.DecisionAbout(assembly);
            OutsideAssembly there = At(assembly, now);
            if (id is not null && assembly.State == OutsideState.Loaded && Ids(Descriptions(assembly)).Any(each => each != id))
            {
                ThrowUnlessTrusted(assembly, now);
                string[] refused = [.. Refused(now).Append(id).Distinct()];
                if (Ids(Descriptions(assembly)).Except(refused).Any())
                {
                    Keep(host, there, Descriptions(assembly), now?.Vetting, refused);
                    return $"{id} of {assembly.FileName} is refused: it does not run, the others do; albums that use it keep its settings and play without it";
                }
            }

            Keep(host, there, false, assembly.Processors, now?.Descriptions, now?.Vetting, []);
            return $"{assembly.FileName} is refused: it does not run; albums that use it keep its settings and play without it";
        }
    }

    /// <summary>Keeps where a processor, or all of a file, runs: in a process of its own, or inside the program. Says what follows from it.</summary>
    /// <param name="host">The folder.</param>
    /// <param name="assembly">A loaded file of it.</param>
    /// <param name="id">One of its processors, or null for all.</param>
    /// <param name="isApart">True for a process of its own.</param>
    /// <exception cref="HostingException">The processor is refused, none of its file may run by now, or the decision cannot be written.</exception>
    public static string Isolate(ProcessorHost host, OutsideAssembly assembly, string? id, bool isApart)
    {
        string[] all = Ids(Descriptions(assembly));
        string[] meant = id is null ? all : [id];
        lock (Deciding)
        {
            TrustEntry? now = host.DecisionAbout(assembly);
            ThrowUnlessTrusted(assembly, now);
            if (id is not null && Refused(now).Contains(id))
            {
                throw new HostingException($"{id} is refused, so it runs nowhere; --trust {PlainText.Argument(assembly.FileName)} vets all of its file again");
            }

            OutsideAssembly there = At(assembly, now);
            string[] before = there.IsIsolated ? all : [.. there.Isolated];
            string[] apart = [.. all.Where(each => meant.Contains(each) ? isApart : before.Contains(each))];
            there = there with { IsIsolated = apart.Length == all.Length, Isolated = apart.Length == all.Length ? [] : apart };
            Keep(host, there, Descriptions(assembly), now?.Vetting, Refused(now));
        }

        string what = meant.Length == all.Length ? assembly.FileName : $"{id} of {assembly.FileName}";
        return isApart
            ? $"{what} runs in a process of its own: its crash is a fade, a message and a restart; while playing it is a little later, which is compensated"
            : $"{what} runs inside the program, except where an album asks for a process of its own";
    }

    /// <summary>Takes back whatever was decided about a file; says what follows from it.</summary>
    /// <exception cref="HostingException">Its folder is the user's own work, so that it would run all the same; or the decisions cannot be written.</exception>
    public static string Forget(ProcessorHost host, OutsideAssembly assembly)
    {
        lock (Deciding)
        {
            host.Forget(assembly);
        }

        return $"whatever was decided about {assembly.FileName} is forgotten: it asks anew, and nothing of it runs until you say yes";
    }

    private static TrustOutcome Decide(
        ProcessorHost host, OutsideAssembly assembly, TrustEntry? before, IReadOnlyList<ProcessorDescription> descriptions, bool keepsRefused, Action<string, double>? progress, CancellationToken cancellation)
    {
        List<VettedProcessor> vetting = [];
        foreach (string id in Ids(descriptions))
        {
            cancellation.ThrowIfCancellationRequested();
            progress?.Invoke(id, (double)vetting.Count / descriptions.Count);
            vetting.Add(ApartVetting.Examine(assembly.Facts, id, cancellation));
        }

        IEnumerable<string> refusedByUser = keepsRefused ? Refused(before).Where(id => before!.VettingOf(id)?.Refusal is null) : [];
        string[] refused = [.. vetting.Where(each => each.Refusal is not null).Select(each => each.Processor).Union(refusedByUser)];
        lock (Deciding)
        {
            cancellation.ThrowIfCancellationRequested();
            if (host.DecisionAbout(assembly)?.DecidedAt != before?.DecidedAt)
            {
                throw new HostingException($"something else was said about {assembly.FileName} while it was vetted; that stands, and what was found is not kept");
            }

            Keep(host, At(assembly, before), descriptions, vetting, refused);
        }

        return new TrustOutcome(vetting, refused);
    }

    // A file of which nothing may run is refused as a whole.
    private static void Keep(ProcessorHost host, OutsideAssembly assembly, IReadOnlyList<ProcessorDescription> descriptions, IReadOnlyList<VettedProcessor>? vetting, IReadOnlyList<string> refused)
    {
        bool mayRun = TrustOutcome.IsAnyLeft(descriptions.Count, refused.Count);
        Keep(host, assembly, mayRun, Ids(descriptions), IsolatedAssembly.TextOf(descriptions), vetting, mayRun ? refused : []);
    }

    private static void Keep(
        ProcessorHost host, OutsideAssembly assembly, bool mayRun, IReadOnlyList<string> processors, string? descriptions, IReadOnlyList<VettedProcessor>? vetting, IReadOnlyList<string> refused)
    {
        AssemblyFacts facts = assembly.Facts;
        host.Decide(new TrustEntry(Path.GetFileName(facts.File), facts.Sha256, facts.Companions, mayRun, processors, DateTimeOffset.Now, vetting)
        {
            IsIsolated = assembly.IsIsolated,
            Isolated = assembly.Isolated.Count > 0 ? assembly.Isolated : null,
            Refused = refused.Count > 0 ? refused : null,
            Descriptions = descriptions,
        });
    }

    // Where it runs as it stands by now, whatever was shown.
    private static OutsideAssembly At(OutsideAssembly assembly, TrustEntry? now) =>
        now is null ? assembly : assembly with { IsIsolated = now.IsIsolated, Isolated = now.Isolated ?? [] };

    private static IReadOnlyList<string> Refused(TrustEntry? now) => now?.Refused ?? [];

    // It was when it was shown; another window or command may have said something else since.
    private static void ThrowUnlessTrusted(OutsideAssembly assembly, TrustEntry? now)
    {
        if (now is null ? !assembly.IsOwnWork : !now.IsTrusted)
        {
            throw new HostingException($"{assembly.FileName} is not trusted any more, so nothing of it runs; say yes to it first");
        }
    }

    private static bool BelongsToAnother(ProcessorHost host, string id, OutsideAssembly assembly) =>
        host.Catalogue.Find(id) is not null && !assembly.Makers.Any(own => own.Description.Id == id);

    private static IReadOnlyList<ProcessorDescription> Descriptions(OutsideAssembly assembly) => [.. assembly.Makers.Concat(assembly.Refused).Select(maker => maker.Description)];

    private static string[] Ids(IReadOnlyList<ProcessorDescription> descriptions) => [.. descriptions.Select(description => description.Id)];
}
