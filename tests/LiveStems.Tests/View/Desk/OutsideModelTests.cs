using LiveStems.Engine.Hosting;
using LiveStems.Engine.Planning;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Engine.Hosting;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using Xunit;

namespace LiveStems.Tests.View.Desk;

/// <summary>The processors folder at the desk, without a window.</summary>
public sealed class OutsideModelTests : IDisposable
{
    private readonly DeskAlbum album = new();
    private readonly OutsideFiles files = new();
    private ProcessorWatch? watch;
    private AlbumDesk? desk;

    public void Dispose()
    {
        desk?.Dispose();
        watch?.Dispose();
        album.Dispose();
        files.Dispose();
    }

    [Fact]
    public void WhatIsTrustedElsewhereIsHereAtOnceWithItsCommandAndGoesWhenItIsRefused()
    {
        files.Put("Tilt");
        Open();
        Assert.Equal(OutsideState.New, Single().State);
        Assert.DoesNotContain(desk!.Commands.All, command => command.Id == "add-other-outside-tilt");
        files.TrustAll();
        Assert.True(RunUntil(() => Single().State == OutsideState.Loaded));
        Assert.NotNull(desk.Catalogue.Find("outside-tilt"));
        desk.Select(desk.Stems[0].Place);
        Assert.Null(desk.Commands.Search("add outside tilt")[0].Run());
        Assert.Equal("outside-tilt", desk.Chain.Selected!.Slot.Processor);
        Assert.Null(desk.Outside.Refuse(Single()));
        Assert.True(RunUntil(() => Single().State == OutsideState.Refused));
        Assert.DoesNotContain(desk.Commands.All, command => command.Id == "add-other-outside-tilt");
        Assert.True(RunUntil(() => desk.Chain.Selected!.PassedBy == "is not here (you have refused Tilt.dll)"));

        // What else the desk can do stays what it was.
        Assert.Equal("add-compressor", desk.Commands.Search("add comp")[0].Id);
        Assert.Null(desk.Outside.Forget(Single()));
        Assert.True(RunUntil(() => Single().State == OutsideState.New));
    }

    [Fact]
    public void OneProcessorOrAllOfAFileRunApart()
    {
        files.Put("Hostile");
        files.TrustAll();
        Open();
        Assert.Null(desk!.Outside.Isolate(Single(), "hostile-nan", true));
        Assert.True(RunUntil(() => desk.Catalogue.RunsApart("hostile-nan")));
        Assert.False(desk.Catalogue.RunsApart("hostile-throws"));
        Assert.Null(desk.Outside.Isolate(Single(), null, true));
        Assert.True(RunUntil(() => desk.Catalogue.RunsApart("hostile-throws") && Single().IsIsolated));
        Assert.Null(desk.Outside.Isolate(Single(), null, false));
        Assert.True(RunUntil(() => !desk.Catalogue.RunsApart("hostile-nan")));
    }

    [Fact]
    public void WhatIsNotTrustedRunsNowhere()
    {
        files.Put("Tilt");
        Open();
        Assert.Equal("Tilt.dll is not trusted, so nothing of it runs; say yes to it first", desk!.Outside.Isolate(Single(), null, true));
        Assert.Equal(MessageKind.Refusal, desk.Messages[^1].Kind);
        Assert.Equal(OutsideState.New, files.Single().State);
    }

    [Fact]
    public void OneThatCannotBeMadeIsToldAndStaysUntrusted()
    {
        files.Put("DiesAtOnce");
        Open();
        Assert.Null(desk!.Outside.Trust(Single()));
        Assert.True(RunUntil(() => desk.Jobs.Open(OutsideModel.JobKind) is null && desk.Messages.Any(message => message.Kind == MessageKind.Trouble)));
        Assert.Equal(
            "vetting DiesAtOnce.dll: DiesAtOnce.dll cannot be loaded: Outside.DiesAtOnce.DiesAtOnceProcessor cannot be made: InvalidOperationException, the tide is out",
            desk.Messages[^1].Text);
        Assert.Equal(OutsideState.New, files.Single().State);
    }

    [Fact]
    public void VettingThatIsCalledOffDecidesNothing()
    {
        files.Put("Tilt");
        Open();
        Assert.Null(desk!.Outside.Trust(Single()));
        DeskJob job = desk.Jobs.Open(OutsideModel.JobKind)!;
        Assert.True(RunUntil(() => job.State == JobState.Running));
        job.Cancel();
        Assert.True(RunUntil(() => !job.IsOpen));
        Assert.Equal(JobState.Cancelled, job.State);
        Assert.Equal(OutsideState.New, files.Single().State);
    }

    [Fact]
    public void WhatIsSaidWhileAFileIsVettedIsNotUndoneWhenVettingEnds()
    {
        files.Put("Tilt");
        Open();
        Assert.Null(desk!.Outside.Trust(Single()));
        DeskJob job = desk.Jobs.Open(OutsideModel.JobKind)!;
        Assert.True(RunUntil(() => job.State == JobState.Running));
        Assert.Null(desk.Outside.Refuse(Single()));
        Assert.EndsWith("play without it; its vetting is called off", desk.Messages[^1].Text, StringComparison.Ordinal);
        Assert.True(RunUntil(() => !job.IsOpen));
        Assert.Equal(OutsideState.Refused, files.Single().State);

        // And so while it is vetted again.
        files.TrustAll();
        Assert.True(RunUntil(() => Single().State == OutsideState.Loaded));
        Assert.Null(desk.Outside.Trust(Single()));
        job = desk.Jobs.Open(OutsideModel.JobKind)!;
        Assert.True(RunUntil(() => job.State == JobState.Running));
        Assert.Null(desk.Outside.Isolate(Single(), null, true));
        Assert.True(RunUntil(() => !job.IsOpen));
        Assert.True(files.Single().IsIsolated);
        Assert.DoesNotContain(desk.Messages, message => message.Text.StartsWith("Tilt.dll is trusted", StringComparison.Ordinal));
    }

    [Fact]
    public void WhatIsSaidOnceVettingIsOverButNotYetToldStandsAndVettingIsNotTold()
    {
        files.Put("Tilt");
        Open();
        Assert.Null(desk!.Outside.Trust(Single()));
        DeskJob job = desk.Jobs.Open(OutsideModel.JobKind)!;
        Assert.True(job.HoldsWork);

        // Its whole share is done when what it found is kept; the desk takes that up with its next picture.
        Assert.True(SpinWait.SpinUntil(() => job.Share == 1, TimeSpan.FromMinutes(2)));
        Assert.Equal(OutsideState.Loaded, files.Single().State);
        Assert.True(job.IsOpen);
        Assert.Null(desk.Outside.Refuse(Single()));
        Assert.True(RunUntil(() => !job.IsOpen));
        Assert.Equal(JobState.Done, job.State);
        Assert.False(job.HoldsWork);
        Assert.Equal(OutsideState.Refused, files.Single().State);
        Assert.DoesNotContain(desk.Messages, message => message.Text.StartsWith("Tilt.dll is trusted", StringComparison.Ordinal));
    }

    [Fact]
    public void MarksOfVettingStandWhereAProcessorIsChosen()
    {
        files.Put("Tilt");
        ProcessorHost host = files.Open();
        host.Decide(OutsideFiles.Decision(host.Assemblies[0].Facts, true, "outside-tilt") with
        {
            Vetting = [new VettedProcessor("outside-tilt", 12.34, [new VettingFinding("blocks", false, "sounds different\u202e in other blocks")])],
        });
        Open();
        Assert.Equal("sounds different\ufffd in other blocks", desk!.Outside.MarkOf("outside-tilt"));
        Assert.Null(desk.Outside.MarkOf("gain"));
        ProcessorDescription tilt = desk.Catalogue.Find("outside-tilt")!;
        Assert.Equal(new ChoiceLine($"{tilt.Name}: {tilt.Purpose} Marked: it sounds different\ufffd in other blocks", "of others, marked"), Choosers.LineOf(desk, tilt));
        ProcessorDescription gain = desk.Catalogue.Find("gain")!;
        Assert.Equal(new ChoiceLine($"{gain.Name}: {gain.Purpose}", string.Empty), Choosers.LineOf(desk, gain));
    }

    [Fact]
    public void FaultsOfEarlierRunsAreCountedOn()
    {
        files.Put("Tilt");
        files.TrustAll();
        DateTimeOffset then = new(2026, 3, 1, 12, 0, 0, TimeSpan.Zero);
        FaultLog.Add(files.Places, [new OutsideUse("Low Tide", "Bass", "outside-tilt", 2, 512, "was louder than +24 dBFS")], then);
        Open();
        desk!.Outside.Look();
        Assert.Equal("2 faults, 512 frames without it; last, on 2026-03-01: was louder than +24 dBFS", desk.Outside.FaultsOf("outside-tilt"));
        Assert.Null(desk.Outside.FaultsOf("outside-scaled"));
    }

    private void Open()
    {
        ProcessorHost host = files.Open();
        watch = new ProcessorWatch(files.Places, host);
        desk = album.Open(host.Catalogue);
        desk.ProcessorWatch = watch;
        album.Run(desk, 0.1);
    }

    private OutsideAssembly Single() => desk!.Outside.Files.Single();

    private bool RunUntil(Func<bool> holds)
    {
        for (int turn = 0; turn < 3000 && !holds(); turn++)
        {
            album.Run(desk!, 0.02);
            Thread.Sleep(15);
        }

        return holds();
    }
}
