using LiveStems.Engine.Hosting;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Vetting;

/// <summary>One thing that is tried.</summary>
/// <param name="Check">Which promise it is about; once that is found broken, further steps about it are left out.</param>
/// <param name="Run">Tries it; what it finds, or null.</param>
internal sealed record VettingStep(string Check, Func<VettingFinding?> Run);

/// <summary>
/// All that is tried of a processor, except what it costs, in order: what would spoil the rest first. Each step has the same
/// patience, so that having much to try makes nobody late.
/// </summary>
internal static class VettingSteps
{
    public static IEnumerable<VettingStep> Of(ProcessorMaker maker)
    {
        Func<Processor> make = maker.Create;
        ProcessorDescription kind = maker.Description;
        IReadOnlyList<VettingSituation> plain = VettingSituation.Plain(kind);
        IReadOnlyList<VettingSituation> all = VettingSituation.All(kind);
        return
        [
            new VettingStep(CostChecks.Name, () => CostChecks.Slowness(make)),
            .. In(all, BoundsCheck.Name, situation => BoundsCheck.Bounds(make, situation)),
            .. In(all, "formats", situation => FormatChecks.Formats(make, situation)),
            .. In(all, "sound", situation => ToleranceChecks.OrdinarySound(make, situation)),
            .. In(plain, "allocation", situation => CostChecks.Allocation(make, situation)),
            .. In(all, "blocks", situation => RepeatChecks.Blocks(make, situation)),
            .. In(VettingMoves.AnyIn(kind) ? plain : [], "blocks", situation => RepeatChecks.MovingBlocks(make, kind, situation)),
            .. In(all, "reset", situation => RepeatChecks.Reset(make, situation)),
            .. In(all, "latency", situation => LatencyCheck.Latency(make, situation)),
            .. Enumerable.Range(0, ToleranceChecks.ExtremesOf(kind)).SelectMany(trial => In(plain, "extremes", situation => ToleranceChecks.Extremes(make, trial, situation))),
            .. In(plain, "non-finite", situation => ToleranceChecks.NonFinite(make, situation)),
            new VettingStep("silence", () => CostChecks.Silence(make)),
        ];
    }

    private static IEnumerable<VettingStep> In(IReadOnlyList<VettingSituation> situations, string check, Func<VettingSituation, VettingFinding?> run) =>
        situations.Select(situation => new VettingStep(check, () => run(situation)));
}
