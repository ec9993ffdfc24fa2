using LiveStems.Analysis.Vetting;
using LiveStems.Engine.Hosting;
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
