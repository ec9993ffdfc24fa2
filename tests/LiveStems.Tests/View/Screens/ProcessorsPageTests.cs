using LiveStems.Engine.Hosting;
using LiveStems.Tests.Engine.Hosting;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens.Drawers;
using Xunit;

namespace LiveStems.Tests.View.Screens;

/// <summary>Saying yes and no to processors of others in the drawer, by keys.</summary>
public sealed class ProcessorsPageTests : DrawerTest
{
    private readonly OutsideFiles files = new();
    private ProcessorWatch? watch;

    [Fact]
    public void AFileIsShownVettedTrustedTakenApartRefusedAndForgotten()
    {
        string path = files.Put("Tilt");
        string sha256 = AssemblyExaminer.Examine(path).Sha256;
        Open();
        ChooseFirst();
        Assert.Equal(("Tilt.dll", "not trusted"), (First.Words, First.Aside));

        // What it says of itself is shown before the yes, and nothing has run or been decided.
        Press("vet and trust");
        Assert.StartsWith("Let Tilt.dll run with your own rights?", Drawer.Page.Explanation, StringComparison.Ordinal);
        Assert.Contains(Drawer.List.Lines, line => line.Words == $"SHA-256: {sha256[..16]} {sha256[16..32]} {sha256[32..48]} {sha256[48..]}");
        Assert.Contains(Drawer.List.Lines, line => line.Words == "author: The Kelp Ledger (as the file says; nothing proves it)");
        Assert.Contains(Drawer.List.Lines, line => line.Words == "asks for: nothing beyond arithmetic");
        Assert.Null(Desk.Jobs.Open(OutsideModel.JobKind));
        Assert.Equal(OutsideState.New, files.Single().State);

        // Another button takes the question back.
        Press("forget");
        Assert.DoesNotContain("Let Tilt.dll", Drawer.Page.Explanation, StringComparison.Ordinal);
        Press("vet and trust");
        Press("yes, vet it and let it run");
        Assert.NotNull(Desk.Jobs.Open(OutsideModel.JobKind));
        Wait(() => Desk.Catalogue.Find("outside-tilt") is not null && First.Aside.StartsWith("trusted", StringComparison.Ordinal));
        Assert.Contains(Drawer.List.Lines, line => line.Words == "outside-tilt" && line.IsOn == false && line.Aside.StartsWith("keeps the contract, ", StringComparison.Ordinal));
        Assert.Contains(Desk.Messages, message => message.Text.StartsWith("Tilt.dll is trusted: ", StringComparison.Ordinal));
        Assert.Contains(Drawer.Page.Buttons, button => button.Words() == "vet again");

        Press("own process");
        Wait(() => First.Aside.EndsWith("own process", StringComparison.Ordinal));
        Assert.Contains(Drawer.Page.Buttons, button => button.IsOn?.Invoke() == true);
        Drawer.List.Lines.Single(line => line.Words == "outside-tilt").Act!();
        Wait(() => First.Aside == "trusted");
        Press("refuse");
        Wait(() => Desk.Catalogue.Find("outside-tilt") is null && First.Aside == "refused");
        Press("forget");
        Wait(() => First.Aside == "not trusted");
    }

    [Fact]
    public void AQuestionIsNotAboutAContentThatCameLater()
    {
        files.Put("Tilt");
        Open();
        ChooseFirst();
        Press("vet and trust");
        files.Put("Tilt", change: OutsideFiles.Rebuilt);
        Wait(() => !Drawer.Page.Explanation.StartsWith("Let Tilt.dll", StringComparison.Ordinal));
        Press("vet and trust");
        Assert.StartsWith("Let Tilt.dll", Drawer.Page.Explanation, StringComparison.Ordinal);
        Assert.Null(Desk.Jobs.Open(OutsideModel.JobKind));
    }

    [Fact]
    public void WhatAFileSaysOfItselfIsPlainTextAndOneThatIsNoneSaysWhy()
    {
        files.Put("Tilt", change: OutsideFiles.SignedBy("\u001b[2J\u202eKelp Led"));
        File.WriteAllText(Path.Combine(files.Places.Folder, "text.dll"), "hello");
        Open();
        DrawerLine tilt = Drawer.List.Lines.Single(line => line.Words == "Tilt.dll");
        DrawerLine text = Drawer.List.Lines.Single(line => line.Words == "text.dll");
        tilt.Act!();
        Frame();
        Assert.Contains(Drawer.List.Lines, line => line.Words.StartsWith("author: \ufffd[2J\ufffdKelp Led", StringComparison.Ordinal));
        Assert.DoesNotContain(Drawer.List.Lines.SelectMany(line => line.Words + line.Detail), letter => letter is '\u001b' or '\u202e');
        Assert.Equal(("cannot be loaded", "is no .NET assembly, or a damaged one; copy or build it anew"), (text.Aside, text.Detail));
        ChooseFirst();
        Host.KeyPressed(Key.End, Modifiers.None, false);
        Frame();
        Press("vet and trust");
        Assert.Equal("text.dll: is no .NET assembly, or a damaged one; copy or build it anew", Desk.Messages[^1].Text);
    }

    [Fact]
    public void WhatChangedSinceAndWhatVettingFoundStandsThere()
    {
        files.Put("Tilt");
        ProcessorHost host = files.Open();
        host.Decide(OutsideFiles.Decision(host.Assemblies[0].Facts, true, "outside-tilt") with
        {
            Vetting = [new VettedProcessor("outside-tilt", 12.34, [new VettingFinding("blocks", false, "sounds different in other blocks")])],
        });
        Open();
        ChooseFirst();
        Assert.Equal("trusted, marked", First.Aside);
        First.Act!();
        Frame();
        Assert.Contains(Drawer.List.Lines, line => line.Words == "outside-tilt" && line.Aside == "marked, 12.3 ns a frame");
        Assert.Contains(Drawer.List.Lines, line => line.Words == "marked: sounds different in other blocks");
        files.Put("Tilt", change: OutsideFiles.Rebuilt);
        Wait(() => First.Aside == "changed, asks again");
        Assert.Contains(Drawer.List.Lines, line => line.Words.StartsWith("changed: another content of this file was trusted on ", StringComparison.Ordinal));
        Assert.DoesNotContain(Drawer.List.Lines, line => line.Words == "marked: sounds different in other blocks");
    }

    [Fact]
    public void WhatPlaysOnAfterItsFileHasChangedAndWhyOneDoesNotStandThere()
    {
        files.Put("Hostile");
        ProcessorHost host = files.Open();
        host.Decide(OutsideFiles.Decision(host.Assemblies[0].Facts, true) with
        {
            Refused = ["hostile-blocks", "hostile-nan"],
            Isolated = ["hostile-late"],
            Vetting = [new VettedProcessor("hostile-nan", 12.34, [new VettingFinding("finite", true, "delivers what is no number")])],
        });
        Open();
        First.Act!();
        Frame();
        Assert.Equal("runs inside the program; Enter gives it a process of its own, Delete refuses it", DetailOf("hostile-throws"));
        Assert.Equal("runs in its own process", DetailOf("hostile-late"));
        files.Put("Hostile", change: OutsideFiles.Rebuilt);
        Wait(() => First.Aside == "changed, asks again");
        Assert.Equal("plays on as it was inside the program", DetailOf("hostile-throws"));
        Assert.Equal("plays on as it was in its own process", DetailOf("hostile-late"));
        Assert.Equal("does not run: it delivers what is no number", DetailOf("hostile-nan"));
        Assert.Equal("does not run: you have refused it", DetailOf("hostile-blocks"));
    }

    private string? DetailOf(string id) => Drawer.List.Lines.Single(line => line.Words == id).Detail;

    private DrawerLine First => Drawer.List.Lines[0];

    protected override void DisposeMore()
    {
        watch?.Dispose();
        files.Dispose();
    }

    private void Open()
    {
        watch = new ProcessorWatch(files.Places, files.Open());
        Desk.ProcessorWatch = watch;
        Type("F8");
        Frame();
    }
}
