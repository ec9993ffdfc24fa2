using LiveStems.Engine.Hosting;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Vetting;

/// <summary>
/// Tries whether a processor of others keeps the promises of the contract. What would harm the music while it plays is a
/// refusal; what makes a processor untrue or wasteful is a mark.
/// </summary>
public static class ProcessorVetting
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    private static readonly (string Check, Func<Func<Processor>, VettingFinding?> Run)[] Checks =
    [
        (BoundsCheck.Name, BoundsCheck.Bounds),
        ("formats", FormatChecks.Formats),
        ("sound", ToleranceChecks.OrdinarySound),
        ("allocation", CostChecks.Allocation),
        ("blocks", RepeatChecks.Blocks),
        ("reset", RepeatChecks.Reset),
        ("latency", LatencyCheck.Latency),
        ("extremes", ToleranceChecks.Extremes),
        ("non-finite", ToleranceChecks.NonFinite),
        ("silence", CostChecks.Silence),
    ];

    /// <summary>Examines one processor with the settings of a new one, and at the ends of its ranges. Takes some seconds.</summary>
    public static VettedProcessor Examine(ProcessorMaker maker, CancellationToken cancellation) => Examine(maker, Patience, cancellation);

    internal static VettedProcessor Examine(ProcessorMaker maker, TimeSpan patience, CancellationToken cancellation)
    {
        List<VettingFinding> findings = [];
        foreach ((string check, Func<Func<Processor>, VettingFinding?> run) in Checks)
        {
            cancellation.ThrowIfCancellationRequested();
            if (Guarded(check, patience, () => run(maker.Create)) is { } finding && !findings.Exists(other => other.Words == finding.Words))
            {
                findings.Add(finding);
                // What else it does would be tried at the cost of the trial itself.
                if (finding.Check is Hang or BoundsCheck.Name || finding is { Check: "allocation", IsRefusal: true })
                {
                    return new VettedProcessor(maker.Description.Id, 0, findings);
                }
            }
        }

        double cost = 0;
        if (!findings.Exists(finding => finding.IsRefusal) && Guarded("cost", patience, () => CostChecks.Cost(maker.Create, out cost)) is { } dear)
        {
            findings.Add(dear);
        }

        return new VettedProcessor(maker.Description.Id, cost, findings);
    }

    private const string Hang = "hang";

    private static VettingFinding? Guarded(string check, TimeSpan patience, Func<VettingFinding?> run)
    {
        try
        {
            return Bounded.Run(run, patience, "late");
        }
        catch (HostingException)
        {
            return new VettingFinding(Hang, true, $"does not come to an end (while its {check} was tried, within {patience.TotalSeconds:0} s)");
        }
        catch (Exception fault)
        {
            return new VettingFinding(check, true, $"throws {fault.GetType().Name} ({fault.Message.ReplaceLineEndings(" ")})");
        }
    }
}
