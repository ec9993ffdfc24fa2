using LiveStems.Engine.Hosting;

namespace LiveStems.Analysis.Trusting;

/// <summary>What became of a yes.</summary>
/// <param name="Vetting">What was found about each processor.</param>
/// <param name="Refused">Ids of those that do not run.</param>
public sealed record TrustOutcome(IReadOnlyList<VettedProcessor> Vetting, IReadOnlyList<string> Refused)
{
    /// <summary>True when any of them runs: the file is trusted then, without those that are refused.</summary>
    public bool MayRun => IsAnyLeft(Vetting.Count, Refused.Count);

    internal static bool IsAnyLeft(int processors, int refused) => refused < processors;
}
