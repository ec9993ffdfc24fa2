using LiveStems.Analysis.Vetting;
using LiveStems.Engine.Hosting;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Engine.Hosting;
using Xunit;

namespace LiveStems.Tests.Analysis.Vetting;

/// <summary>Good processors pass, and each bad one is found out for what it does.</summary>
public class ProcessorVettingTests
{
    [Theory]
    [InlineData("Tilt", "outside-tilt")]
    [InlineData("HoldBack", "outside-hold-back")]
    public void WorkedExamplesKeepTheContract(string assembly, string id) => Assert.Empty(Lasting(assembly, id));

    [Theory]
    [InlineData("hostile-throws", "sound", true)]
    [InlineData("hostile-allocates", "allocation", true)]
    [InlineData("hostile-nan", "sound", true)]
    [InlineData("hostile-loud", "sound", true)]
    [InlineData("hostile-asked", "sound", true)]
    [InlineData("hostile-blocks", "blocks", false)]
    [InlineData("hostile-remembers", "reset", false)]
    [InlineData("hostile-latency", "latency", false)]
    [InlineData("hostile-late", "formats", true)]
    public void BrokenPromiseIsFoundAndJudgedBySeverity(string id, string check, bool isRefusal)
    {
        IReadOnlyList<VettingFinding> findings = Lasting("Hostile", id);
        Assert.Contains(findings, finding => finding.Check == check);
        Assert.Equal(isRefusal, findings.Any(finding => finding.IsRefusal));
    }

    [Theory]
    [InlineData("hostile-key", "sound", true, "gives what is no number from plain noise with a key")]
    [InlineData("hostile-latency-at-max", "latency", false, "declares 480 frames of latency and takes 0 with depth at its highest: what it works on is out of step with the rest")]
    [InlineData("hostile-later", "latency", false, "declares 96000 frames of latency and takes 97000 with depth at its highest: what it works on is out of step with the rest")]
    [InlineData("hostile-moving", "blocks", false, "sounds different in blocks of 1 frames and of 700 while its values move: a render depends on the device's settings")]
    [InlineData("hostile-extremes", "extremes", true, "gives what is no number from silence with depth at its highest")]
    [InlineData("hostile-stays-nan", "non-finite", false, "does not recover from what is no number by a reset")]
    public void WhatIsBadInOneSituationOnlyIsFoundThere(string id, string check, bool isRefusal, string words)
    {
        IReadOnlyList<VettingFinding> findings = Lasting("Hostile", id);
        Assert.Contains(new VettingFinding(check, isRefusal, words), findings);
        Assert.Equal(isRefusal, findings.Any(finding => finding.IsRefusal));
    }

    [Fact]
    public void LabourInSilenceIsMarked()
    {
        VettingFinding finding = Assert.Single(
            ProcessorVetting.Examine(OutsideFiles.Maker("Hostile", "hostile-silence"), CancellationToken.None).Findings,
            each => each.Check == "silence");
        Assert.False(finding.IsRefusal);
        Assert.Matches("^takes [0-9.]+ times as long in silence after sound: ", finding.Words);
    }

    [Fact]
    public void OneThatNeedsMoreThanACoreIsRefusedForThatAlone()
    {
        VettedProcessor vetted = ProcessorVetting.Examine(OutsideFiles.Maker("Hostile", "hostile-slow"), CancellationToken.None);
        VettingFinding finding = Assert.Single(vetted.Findings);
        Assert.Equal(("cost", true), (finding.Check, finding.IsRefusal));
        Assert.Matches("^takes [0-9]{3,} % of one core at 48 kHz$", finding.Words);
    }

    // A frame lasts 1e9 / 48 000 = 20 833 ns.
    [Theory]
    [InlineData(2_000.0, null)]
    [InlineData(2_100.0, false)]
    [InlineData(10_000.0, false)]
    [InlineData(12_500.0, true)]
    public void CostIsMarkedFromATenthOfACoreAndRefusedAboveHalf(double nanosecondsPerFrame, bool? isRefusal) =>
        Assert.Equal(isRefusal, CostChecks.Judge(nanosecondsPerFrame)?.IsRefusal);

    [Fact]
    public void EveryStructuralValueIsTriedAndNoMoreThanAreBearable()
    {
        ParameterSpec mode = ParameterSpec.Choice("mode", "Mode", ["one", "two", "three"], 0, "Which.") with { IsStructural = true };
        ParameterSpec ahead = new("aheadMs", "Ahead", ParameterUnit.Milliseconds, 0, 20, 5, Taper.Linear, "How early.") { IsStructural = true };
        ParameterSpec gain = new("gainDb", "Gain", ParameterUnit.Decibels, -6, 6, 0, Taper.Linear, "How loud.");
        Assert.Equal(
            ["", " with a key", " with mode = three", " with aheadMs at its highest", " with aheadMs at its lowest", " with mode = two"],
            Words([mode, ahead, gain], listens: true));
        Assert.Equal([""], Words([gain], listens: false));
        Assert.Equal(1 + 16, Words([.. Enumerable.Range(0, 40).Select(index => ahead with { Id = $"ahead{index}Ms" })], listens: false).Count());

        static IEnumerable<string> Words(ParameterSpec[] parameters, bool listens) =>
            VettingSituation.All(new ProcessorDescription("x", "X", 1, "Is tried.", parameters, listens)).Select(situation => situation.Words);
    }

    [Theory]
    [InlineData("deadly-length", "bounds", true)]
    [InlineData("deadly-threads", "allocation", false)]
    public void WhatWouldHarmTheProgramIsFoundToo(string id, string check, bool isRefusal)
    {
        IReadOnlyList<VettingFinding> findings = Lasting("Deadly", id);
        Assert.Equal([check], findings.Select(finding => finding.Check));
        Assert.Equal(isRefusal, findings[0].IsRefusal);
    }

    [Theory]
    [InlineData("endless-later")]
    [InlineData("endless-prepare")]
    [InlineData("endless-reset")]
    public void OneThatNeverComesToAnEndIsRefusedForThatAlone(string id)
    {
        VettedProcessor vetted = ProcessorVetting.Examine(OutsideFiles.Maker("Endless", id), TimeSpan.FromSeconds(2), CancellationToken.None);
        VettingFinding finding = vetted.Findings[^1];
        Assert.Equal(("hang", true), (finding.Check, finding.IsRefusal));
        Assert.StartsWith("does not come to an end (while its ", finding.Words);
    }

    // What is a matter of time is left to the machine's mood.
    private static IReadOnlyList<VettingFinding> Lasting(string assembly, string id) =>
    [
        .. ProcessorVetting.Examine(OutsideFiles.Maker(assembly, id), CancellationToken.None).Findings
            .Where(finding => finding.Check is not ("cost" or "silence")),
    ];
}
