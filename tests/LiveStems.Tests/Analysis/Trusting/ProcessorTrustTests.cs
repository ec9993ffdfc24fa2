using LiveStems.Analysis.Trusting;
using LiveStems.Engine.Hosting;
using LiveStems.Tests.Engine.Hosting;
using Xunit;

namespace LiveStems.Tests.Analysis.Trusting;

/// <summary>What is kept of what the user says.</summary>
public sealed class ProcessorTrustTests : IDisposable
{
    private readonly OutsideFiles files = new();

    public void Dispose() => files.Dispose();

    [Theory]
    [InlineData("mine", "mine")]
    [InlineData("my own", "'my own'")]
    [InlineData("$(tide)'s", "'$(tide)'\\''s'")]
    public void WhatRunsBecauseItsFolderIsOwnWorkIsNotForgottenAlone(string folder, string argument)
    {
        string path = files.Put("Tilt", Path.Combine(folder, "Tilt.dll"));
        files.Open().DecideOwnWork(Path.GetDirectoryName(path)!, true);
        ProcessorHost host = files.Open();
        HostingException fault = Assert.Throws<HostingException>(() => ProcessorTrust.Forget(host, host.Assemblies[0]));
        argument = OperatingSystem.IsWindows() && argument != folder ? $"\"{folder}\"" : argument;
        Assert.Equal($"Tilt.dll runs unasked, since its folder {folder} is your own work; take that back first: livestems processors --no-author {argument}", fault.Message);
        Assert.Equal(OutsideState.Loaded, files.Single().State);
        host.DecideOwnWork(Path.GetDirectoryName(path)!, false);
        ProcessorTrust.Forget(host, host.Assemblies[0]);
        Assert.Equal(OutsideState.New, files.Single().State);
    }

    [Fact]
    public void WhatVettingFoundOfAnotherBuildIsNotWrittenDownAsThatOfThisOne()
    {
        string path = files.Put("Tilt");
        ProcessorHost host = files.Open();
        host.Decide(OutsideFiles.Decision(host.Assemblies[0].Facts, true, "outside-tilt") with { Vetting = [new VettedProcessor("outside-tilt", 12, [])], Descriptions = "of the build before" });
        host.DecideOwnWork(path, true);
        files.Put("Tilt", change: OutsideFiles.Rebuilt);
        host = files.Open();
        Assert.NotNull(host.Assemblies[0].Trust!.Vetting);
        ProcessorTrust.Isolate(host, host.Assemblies[0], null, true);
        Assert.Null(Kept().Vetting);
        Assert.NotEqual("of the build before", Kept().Descriptions);
        files.Put("Tilt", change: OutsideFiles.SignedBy("The Kelp Lender"));
        host = files.Open();
        ProcessorTrust.Refuse(host, host.Assemblies[0], null);
        Assert.Null(Kept().Vetting);
        Assert.Null(Kept().Descriptions);

        TrustEntry Kept() => files.Single().Decision!;
    }

    [Fact]
    public void WhereARefusedOneRanIsNotForgottenWhenAnotherOfItsFileIsMoved()
    {
        files.Put("Hostile");
        ProcessorHost host = files.Open();
        host.Decide(OutsideFiles.Decision(host.Assemblies[0].Facts, true) with { Isolated = ["hostile-blocks", "hostile-nan"], Refused = ["hostile-blocks"] });
        host = files.Open();
        ProcessorTrust.Isolate(host, host.Assemblies[0], "hostile-nan", false);
        Assert.Equal(["hostile-blocks"], files.Single().Isolated);
        Assert.Equal(["hostile-blocks"], files.Single().RefusedProcessors);
    }

    [Fact]
    public void WhatIsSaidElsewhereWhileAFileIsVettedStands()
    {
        files.Put("Tilt");
        ProcessorHost host = files.Open();
        HostingException fault = Assert.Throws<HostingException>(() => ProcessorTrust.Trust(
            host, host.Assemblies[0], (_, _) => ProcessorTrust.Refuse(files.Open(), files.Single(), null), TestContext.Current.CancellationToken));
        Assert.Equal("something else was said about Tilt.dll while it was vetted; that stands, and what was found is not kept", fault.Message);
        Assert.Equal(OutsideState.Refused, files.Single().State);

        // And so when what was said is taken back, while it is vetted again.
        files.TrustAll();
        host = files.Open();
        Assert.Equal(OutsideState.Loaded, host.Assemblies[0].State);
        Assert.Throws<HostingException>(() => ProcessorTrust.VetAgain(
            host, host.Assemblies[0], (_, _) => ProcessorTrust.Forget(files.Open(), files.Single()), TestContext.Current.CancellationToken));
        Assert.Equal(OutsideState.New, files.Single().State);
    }

    [Fact]
    public void WhatIsSaidBuildsOnWhatStandsByThenNotOnWhatWasShown()
    {
        files.Put("Hostile");
        files.TrustAll();
        ProcessorHost host = files.Open();
        OutsideAssembly shown = host.Assemblies[0];
        VettedProcessor found = new("hostile-nan", 0, [new VettingFinding("finite", true, "delivers what is no number")]);
        host.Decide(OutsideFiles.Decision(shown.Facts, true) with { Refused = ["hostile-nan"], Vetting = [found], Isolated = ["hostile-blocks"] });
        ProcessorTrust.Isolate(host, shown, "hostile-throws", true);
        Assert.Equal(["hostile-blocks", "hostile-throws"], files.Single().Isolated.Order());
        ProcessorTrust.Refuse(host, shown, "hostile-blocks");
        OutsideAssembly now = files.Single();
        Assert.Equal(["hostile-blocks", "hostile-nan"], now.RefusedProcessors.Order());
        Assert.Equal(["hostile-blocks", "hostile-throws"], now.Isolated.Order());
        Assert.Equal("delivers what is no number", now.RefusalOf("hostile-nan")!.Words);
        Assert.Equal(
            "hostile-nan is refused, so it runs nowhere; --trust Hostile.dll vets all of its file again",
            Assert.Throws<HostingException>(() => ProcessorTrust.Isolate(host, shown, "hostile-nan", true)).Message);

        // What may run no more is not let run by a word about where it runs, or about one of it.
        ProcessorTrust.Forget(host, shown);
        foreach (Action say in new Action[] { () => ProcessorTrust.Isolate(host, shown, null, true), () => ProcessorTrust.Refuse(host, shown, "hostile-nan") })
        {
            Assert.Equal("Hostile.dll is not trusted any more, so nothing of it runs; say yes to it first", Assert.Throws<HostingException>(say).Message);
            Assert.Equal(OutsideState.New, files.Single().State);
        }
    }
}
