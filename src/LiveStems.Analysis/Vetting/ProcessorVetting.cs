using LiveStems.Engine.Hosting;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Vetting;

/// <summary>
/// Tries whether a processor of others keeps the promises of the contract. What would harm the music while it plays is a
/// refusal; what makes a processor untrue or wasteful is a mark.
/// </summary>
public static class ProcessorVetting
{
    private const string Hang = "hang";

    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    /// <summary>
    /// Examines one processor: with the settings of a new one, with each structural value, with a key where it listens to one,
    /// and at the ends of its ranges. Takes some seconds.
    /// </summary>
    public static VettedProcessor Examine(ProcessorMaker maker, CancellationToken cancellation) => Examine(maker, Patience, cancellation);

    internal static VettedProcessor Examine(ProcessorMaker maker, TimeSpan patience, CancellationToken cancellation)
    {
        List<VettingFinding> findings = [];
        foreach (VettingStep step in VettingSteps.Of(maker))
        {
            cancellation.ThrowIfCancellationRequested();
            if (findings.Exists(known => known.Check == step.Check)
                || Guarded(step.Check, patience, step.Run) is not { } finding
                || findings.Exists(known => known.Words == finding.Words))
            {
                continue;
            }

            findings.Add(finding);

            // What else it does would be tried at the cost of the trial itself.
            if (finding.Check is Hang or BoundsCheck.Name or CostChecks.Name || finding is { Check: "allocation", IsRefusal: true })
            {
                return new VettedProcessor(maker.Description.Id, 0, findings);
            }
        }

        double cost = 0;
        if (!findings.Exists(finding => finding.IsRefusal) && Guarded(CostChecks.Name, patience, () => CostChecks.Cost(maker.Create, out cost)) is { } dear)
        {
            findings.Add(dear);
        }

        return new VettedProcessor(maker.Description.Id, cost, findings);
    }

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
