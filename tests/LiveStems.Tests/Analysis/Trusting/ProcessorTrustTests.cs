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
        string path = files.Put("Tilt", Path.Combine("mine", "Tilt.dll"));
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
}
