using LiveStems.Processing.Catalogue;

namespace LiveStems.Engine.Hosting;

/// <summary>
/// The built-in processors together with those of others that the user trusts. Files of the processors folder are looked at
/// when the host is opened; only trusted ones are loaded.
/// </summary>
public sealed class ProcessorHost
{
    private readonly TrustStore store;

    private ProcessorHost(TrustStore store, IReadOnlyList<OutsideAssembly> assemblies, string? storeFault)
    {
        this.store = store;
        Assemblies = assemblies;
        StoreFault = storeFault;
        Catalogue = new ProcessorCatalogue(BuiltInProcessors.Makers.Concat(assemblies.SelectMany(assembly => assembly.Makers)))
        {
            HasOutside = assemblies.Any(assembly => assembly.Makers.Count > 0),
            Absent = assemblies
                .Where(assembly => assembly.State != OutsideState.Loaded)
                .SelectMany(assembly => assembly.Processors.Select(id => (id, Why(assembly))))
                .DistinctBy(pair => pair.id)
                .ToDictionary(pair => pair.id, pair => pair.Item2, StringComparer.Ordinal),
        };
    }

    /// <summary>Every processor that can be used.</summary>
    public ProcessorCatalogue Catalogue { get; }

    /// <summary>The files of the processors folder that hold processors, or should.</summary>
    public IReadOnlyList<OutsideAssembly> Assemblies { get; }

    /// <summary>Why no decision could be read, one line; nothing is trusted then.</summary>
    public string? StoreFault { get; }

    /// <summary>Looks at the folder and loads what is trusted. Never fails: what is wrong stands with each file.</summary>
    public static ProcessorHost Open(HostingPlaces places)
    {
        TrustStore store = new(places.TrustFile);
        string? storeFault = null;
        IReadOnlyList<TrustEntry> entries = [];
        AssemblyFacts[] found = [.. FolderSearch.In(places.Folder)];
        if (found.Length > 0)
        {
            try
            {
                entries = store.Load();
            }
            catch (HostingException fault)
            {
                storeFault = fault.Message;
            }
        }

        HashSet<string> ids = [.. BuiltInProcessors.Catalogue.Descriptions.Select(description => description.Id)];
        return new ProcessorHost(store, [.. found.Select(facts => Take(facts, entries, ids))], storeFault);
    }

    /// <summary>The files that a text means: an id of a processor in them, the file's name or path, or its assembly's name.</summary>
    public IEnumerable<OutsideAssembly> Find(string idOrFile) => Assemblies.Where(assembly =>
        assembly.Processors.Contains(idOrFile)
        || assembly.Facts.Name == idOrFile
        || Path.GetFileName(assembly.Facts.File) == idOrFile
        || assembly.Facts.File == Path.GetFullPath(idOrFile));

    /// <summary>Keeps the user's decision about a file with its present content.</summary>
    /// <exception cref="HostingException">The decision cannot be written.</exception>
    public void Decide(AssemblyFacts facts, bool isTrusted, IReadOnlyList<string> processors, IReadOnlyList<VettedProcessor>? vetting, DateTimeOffset now) =>
        store.Put(new TrustEntry(Path.GetFileName(facts.File), facts.Sha256, facts.Companions, isTrusted, processors, now, vetting));

    private static OutsideAssembly Take(AssemblyFacts facts, IReadOnlyList<TrustEntry> entries, HashSet<string> ids)
    {
        TrustEntry? same = entries.LastOrDefault(entry => entry.IsAbout(facts));
        TrustEntry? earlier = same ?? entries.LastOrDefault(entry => entry.File == Path.GetFileName(facts.File));
        if (facts.Fault is not null)
        {
            return new OutsideAssembly(facts, OutsideState.Unusable, earlier, [], facts.Fault);
        }

        if (same is not { IsTrusted: true })
        {
            OutsideState state = same is not null ? OutsideState.Refused : earlier is not null ? OutsideState.Changed : OutsideState.New;
            return new OutsideAssembly(facts, state, earlier, [], null);
        }

        try
        {
            IReadOnlyList<ProcessorMaker> makers = OutsideLoader.Load(facts);
            return makers.FirstOrDefault(maker => !ids.Add(maker.Description.Id)) is { } second
                ? new OutsideAssembly(facts, OutsideState.Unusable, same, [], $"its id '{second.Description.Id}' belongs to another processor already; keep one of the two in the folder")
                : new OutsideAssembly(facts, OutsideState.Loaded, same, makers, null);
        }
        catch (HostingException fault)
        {
            return new OutsideAssembly(facts, OutsideState.Unusable, same, [], fault.Message);
        }
    }

    private static string Why(OutsideAssembly assembly)
    {
        string file = Path.GetFileName(assembly.Facts.File);
        return assembly.State switch
        {
            OutsideState.Refused => $"you have refused {file}",
            OutsideState.Changed => $"{file} has changed since you trusted it: livestems processors --trust {file}",
            OutsideState.Unusable => $"{file}: {assembly.Fault}",
            _ => $"{file} is not trusted: livestems processors --trust {file}",
        };
    }
}
