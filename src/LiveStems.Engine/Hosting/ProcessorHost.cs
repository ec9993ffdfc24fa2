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
            Absent = AbsentIn(assemblies),
        };
    }

    /// <summary>Every processor that can be used.</summary>
    public ProcessorCatalogue Catalogue { get; }

    /// <summary>The files of the processors folder that hold processors, or should.</summary>
    public IReadOnlyList<OutsideAssembly> Assemblies { get; }

    /// <summary>Why no decision could be read, one line; nothing is trusted then.</summary>
    public string? StoreFault { get; }

    /// <summary>What the folder looked like just before it was looked into.</summary>
    internal string Signature { get; private init; } = string.Empty;

    /// <summary>Looks at the folder and loads what is trusted. Never fails: what is wrong stands with each file.</summary>
    /// <param name="places">Where to look.</param>
    /// <param name="before">
    /// The host so far, or null: what has not changed is taken over from it, and what has changed to something that may not or
    /// cannot run stays as it was.
    /// </param>
    public static ProcessorHost Open(HostingPlaces places, ProcessorHost? before = null)
    {
        string signature = FolderSignature.Of(places);
        TrustStore store = new(places.TrustFile);
        string? storeFault = null;
        TrustDecisions decisions = TrustDecisions.None;
        AssemblyFacts[] found = [.. FolderSearch.In(places.Folder)];
        if (found.Length > 0)
        {
            try
            {
                decisions = store.Load();
            }
            catch (HostingException fault)
            {
                storeFault = fault.Message;
            }
        }

        HostOpening opening = new(decisions, before);
        OutsideAssembly[] taken = [.. found.Select(opening.Take)];
        return new ProcessorHost(store, [.. taken, .. opening.StillLoaded()], storeFault) { Signature = signature };
    }

    /// <summary>The files that a text means: an id of a processor in them, the file's name or path, or its assembly's name.</summary>
    public IEnumerable<OutsideAssembly> Find(string idOrFile) => Assemblies.Where(assembly =>
        assembly.Processors.Contains(idOrFile)
        || assembly.Facts.Name == idOrFile
        || Path.GetFileName(assembly.Facts.File) == idOrFile
        || assembly.Facts.File == Path.GetFullPath(idOrFile));

    /// <summary>What is decided about a file with its present content by now, which may be newer than what the host was opened with; null when nothing is.</summary>
    /// <exception cref="HostingException">The decisions cannot be read.</exception>
    public TrustEntry? DecisionAbout(OutsideAssembly assembly) => store.Load().About(assembly.Facts);

    /// <summary>Keeps the user's decision about a file with its present content, what its processors are and where they run.</summary>
    /// <exception cref="HostingException">The decision cannot be written.</exception>
    public void Decide(TrustEntry entry) => store.Put(entry);

    /// <summary>
    /// Takes back whatever was decided about a file: about its content, about others that it had under its name, and that it
    /// is the user's own work. A decision about another file that lies in the folder stays.
    /// </summary>
    /// <exception cref="HostingException">Its folder is the user's own work, so that it would run all the same; or the decisions cannot be written.</exception>
    public void Forget(OutsideAssembly assembly)
    {
        AssemblyFacts facts = assembly.Facts;
        if (store.Load().OwnFolderOf(facts.File) is { } folder)
        {
            string name = PlainText.Of(Path.GetFileName(folder));
            throw new HostingException($"{assembly.FileName} runs unasked, since its folder {name} is your own work; take that back first: livestems processors --no-author {PlainText.Argument(name)}");
        }

        OutsideAssembly[] others = [.. Assemblies.Where(other => other.Facts.File != facts.File)];
        store.Remove(
            entry => entry.IsAbout(facts) || (entry.File == Path.GetFileName(facts.File) && !others.Any(other => entry.IsAbout(other.Facts))),
            facts.File);
    }

    /// <summary>Says whether every build of a file, or of what lies in a folder, is trusted as the user's own work.</summary>
    /// <exception cref="HostingException">The decision cannot be written.</exception>
    public void DecideOwnWork(string path, bool isOwn)
    {
        IEnumerable<string> others = store.Load().Authors.Where(each => each != path);
        store.PutAuthors(isOwn ? others.Append(path) : others);
    }

    private static Dictionary<string, string> AbsentIn(IReadOnlyList<OutsideAssembly> assemblies)
    {
        Dictionary<string, string> absent = new(StringComparer.Ordinal);
        foreach (OutsideAssembly assembly in assemblies)
        {
            foreach (string id in assembly.RefusedProcessors)
            {
                absent.TryAdd(id, WhyNot(assembly, id));
            }

            if (assembly.Makers.Count == 0)
            {
                foreach (string id in assembly.Processors)
                {
                    absent.TryAdd(id, Why(assembly));
                }
            }
        }

        return absent;
    }

    private static string WhyNot(OutsideAssembly assembly, string id) => assembly.RefusalOf(id) is { } refusal
        ? $"{assembly.FileName} is trusted without it: it {PlainText.Of(refusal.Words)}"
        : $"{assembly.FileName} is trusted without it: you have refused it";

    private static string Why(OutsideAssembly assembly)
    {
        string file = assembly.FileName;
        return assembly.State switch
        {
            OutsideState.Refused => $"you have refused {file}",
            OutsideState.Changed => $"{file} has changed since you trusted it: livestems processors --trust {PlainText.Argument(file)}",
            OutsideState.Unusable or OutsideState.Loaded => $"{file}: {assembly.Fault}",
            _ => $"{file} is not trusted: livestems processors --trust {PlainText.Argument(file)}",
        };
    }
}
