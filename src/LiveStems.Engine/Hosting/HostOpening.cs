using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Hosting;

/// <summary>Decides for each file of the processors folder, in order, how it stands, and loads what may run.</summary>
/// <param name="decisions">What the user has decided.</param>
/// <param name="before">What was loaded before in this run of the program; may be null.</param>
internal sealed class HostOpening(TrustDecisions decisions, ProcessorHost? before)
{
    private readonly HashSet<string> takenFiles = [];
    private readonly HashSet<string> ids = [.. BuiltInProcessors.Catalogue.Descriptions.Select(description => description.Id)];

    /// <summary>How one file stands.</summary>
    public OutsideAssembly Take(AssemblyFacts facts)
    {
        takenFiles.Add(facts.File);
        OutsideAssembly? loaded = before?.Assemblies.FirstOrDefault(each => each.Facts.File == facts.File && each.Makers.Count > 0);
        OutsideAssembly now = Judge(facts, loaded);
        if (now.Makers.Count == 0 && loaded is not null && now.State is OutsideState.Changed or OutsideState.Unusable)
        {
            // Half a build, or one that nobody has said yes to: what plays, plays on.
            now = now with { Makers = loaded.Makers, Refused = loaded.Refused, Trust = loaded.Trust ?? now.Trust };
        }

        return Claim(now) is { } taken
            ? now with { State = OutsideState.Unusable, Makers = [], Refused = [], Fault = $"its id '{taken}' belongs to another processor already; keep one of the two in the folder" }
            : now;
    }

    /// <summary>Once all files have been taken: what was loaded before and whose file is gone, or holds no processor at present, plays on, unless another file has its ids by now.</summary>
    public IEnumerable<OutsideAssembly> StillLoaded() =>
        (before?.Assemblies ?? []).Where(each => each.Makers.Count > 0 && !takenFiles.Contains(each.Facts.File) && Claim(each) is null);

    // The first id that is not free; all of them are its own when it is null.
    private string? Claim(OutsideAssembly assembly)
    {
        HashSet<string> own = new(StringComparer.Ordinal);
        string? taken = assembly.Makers.Select(maker => maker.Description.Id).FirstOrDefault(id => ids.Contains(id) || !own.Add(id));
        if (taken is null)
        {
            ids.UnionWith(own);
        }

        return taken;
    }

    private OutsideAssembly Judge(AssemblyFacts facts, OutsideAssembly? loaded)
    {
        TrustEntry? same = decisions.About(facts);
        TrustEntry? earlier = same ?? decisions.Entries.LastOrDefault(entry => entry.File == Path.GetFileName(facts.File));
        bool isOwn = decisions.IsOwnWork(facts.File);
        OutsideAssembly judged = new(facts, OutsideState.Unusable, earlier, [], facts.Fault) { IsOwnWork = isOwn, IsIsolated = earlier?.IsIsolated ?? false, Isolated = earlier?.Isolated ?? [] };
        if (facts.Fault is not null)
        {
            return judged;
        }

        if (same is { IsTrusted: false } || (same is null && !isOwn))
        {
            return judged with { State = same is not null ? OutsideState.Refused : earlier is not null ? OutsideState.Changed : OutsideState.New };
        }

        IReadOnlyList<string> refused = same?.Refused ?? [];
        if (loaded is { State: OutsideState.Loaded } && IsSame(loaded, judged))
        {
            return Without(refused, [.. loaded.Makers, .. loaded.Refused], loaded with { Trust = judged.Trust, IsOwnWork = isOwn });
        }

        try
        {
            IReadOnlyList<ProcessorMaker> makers = judged.IsIsolated ? Apart(facts, same) : new IsolatedAssembly(facts).Beside(OutsideLoader.Load(facts), judged.Isolated);
            return Without(refused, makers, judged with { State = OutsideState.Loaded });
        }
        catch (HostingException fault)
        {
            return judged with { Fault = fault.Message };
        }
    }

    // One that must not run keeps none of the others from running.
    private static OutsideAssembly Without(IReadOnlyList<string> refused, IReadOnlyList<ProcessorMaker> makers, OutsideAssembly assembly)
    {
        ILookup<bool, ProcessorMaker> mayRun = makers.ToLookup(maker => !refused.Contains(maker.Description.Id));
        return assembly with { Makers = [.. mayRun[true]], Refused = [.. mayRun[false]] };
    }

    private static bool IsSame(OutsideAssembly one, OutsideAssembly other) =>
        one.Facts.Sha256 == other.Facts.Sha256 && one.RunsWhere(other) && one.Facts.Companions.SequenceEqual(other.Facts.Companions);

    private static IReadOnlyList<ProcessorMaker> Apart(AssemblyFacts facts, TrustEntry? same)
    {
        IReadOnlyList<ProcessorDescription> descriptions = same?.Descriptions is { } text ? DescriptionText.Read(text) : IsolatedAssembly.Describe(facts);
        return new IsolatedAssembly(facts).Makers(descriptions);
    }
}
