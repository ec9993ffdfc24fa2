using System.Text.Json.Nodes;
using LiveStems.Engine.Hosting;
using LiveStems.Tests.Engine.Hosting;
using Xunit;

namespace LiveStems.Tests.App.Verbs;

/// <summary>What is said yes and no to, by commands alone.</summary>
public sealed class ProcessorsVerbTests : ProcessorsByCommand
{
    [Fact]
    public void FileGoesFromUnknownToTrustedToRefused()
    {
        Files.Put("Tilt");
        CommandLine.Result list = CommandLine.Run("processors");
        Assert.Contains("Tilt.dll: nothing of it runs until you say yes: livestems processors --trust Tilt.dll", list.Output, StringComparison.Ordinal);
        CommandLine.Result trust = CommandLine.Run("processors", "--trust", "Tilt.dll", "--yes");
        Assert.Equal((0, string.Empty), (trust.ExitCode, trust.Errors));
        Assert.Contains("outside-tilt: keeps the contract", trust.Output, StringComparison.Ordinal);
        Assert.Contains("Tilt.dll is trusted", trust.Output, StringComparison.Ordinal);
        Assert.Equal("loaded", (string)Listed()["state"]!);
        Assert.StartsWith("Outside tilt: ", CommandLine.Run("probe", "outside-tilt").Output, StringComparison.Ordinal);
        Assert.Equal(0, CommandLine.Run("processors", "--refuse", "outside-tilt").ExitCode);
        Assert.Equal("refused", (string)Listed()["state"]!);
        CommandLine.Result forget = CommandLine.Run("processors", "--forget", "Tilt.dll");
        Assert.Equal((0, "whatever was decided about Tilt.dll is forgotten: it asks anew, and nothing of it runs until you say yes\n"), (forget.ExitCode, forget.Output));
        Assert.Equal("new", (string)Listed()["state"]!);
    }

    [Fact]
    public void ForgettingOneLeavesWhatWasSaidAboutAnotherOfItsName()
    {
        Files.Put("Tilt", Path.Combine("one", "Tilt.dll"));
        Files.Put("Tilt", Path.Combine("two", "Tilt.dll"), OutsideFiles.Rebuilt);
        ProcessorHost host = Files.Open();
        host.Decide(OutsideFiles.Decision(host.Assemblies[0].Facts, false, "outside-tilt"));
        host.Decide(OutsideFiles.Decision(host.Assemblies[1].Facts, false, "outside-tilt"));
        Assert.Equal([OutsideState.Refused, OutsideState.Refused], Files.Open().Assemblies.Select(each => each.State));
        Assert.Equal(0, CommandLine.Run("processors", "--forget", host.Assemblies[0].Facts.File).ExitCode);
        OutsideAssembly[] now = [.. Files.Open().Assemblies];

        // What is left of its name is about another content.
        Assert.Equal([OutsideState.Changed, OutsideState.Refused], now.Select(each => each.State));
    }

    [Fact]
    public void OneThatBreaksTheContractIsRefusedWithTheReason()
    {
        Files.Put("Deadly");
        CommandLine.Result trust = CommandLine.Run("processors", "--trust", "Deadly.dll", "--yes", "--json");
        Assert.Equal((1, string.Empty), (trust.ExitCode, trust.Errors));
        JsonNode result = JsonNode.Parse(trust.Output)!;
        Dictionary<string, string> words = result["vetting"]!.AsArray().ToDictionary(each => (string)each!["processor"]!, each => string.Join("; ", each!["findings"]!.AsArray().Select(finding => (string)finding!["words"]!)));
        Assert.Contains("its process has ended (stack overflow)", words["deadly-overflow"], StringComparison.Ordinal);
        Assert.Contains("its process has ended (access violation)", words["deadly-access"], StringComparison.Ordinal);
        Assert.Contains("its process has ended (System.InvalidOperationException: the anchor drags)", words["deadly-thread-throws"], StringComparison.Ordinal);

        // One that is only marked runs, whatever stands beside it in its file; what its threads cost is the machine's mood.
        const string Marked = "deadly-threads";
        string[] refused = [.. result["refusedProcessors"]!.AsArray().Select(id => (string)id!).Order()];
        Assert.Equal(["deadly-access", "deadly-length", "deadly-overflow", "deadly-thread-throws"], refused.Where(id => id != Marked));
        bool mayRun = !refused.Contains(Marked);
        Assert.Equal(mayRun, (bool)result["mayRun"]!);
        Assert.Equal(mayRun ? "loaded" : "refused", (string)Listed()["state"]!);
        Assert.Contains("Deadly.dll: deadly-length refused; writes outside the block it is given", Listing(), StringComparison.Ordinal);
        Assert.Equal(2, CommandLine.Run("probe", "deadly-length").ExitCode);
    }

    [Fact]
    public void CleanPassAndCostStandInTheList()
    {
        Files.Put("Tilt");
        Files.TrustAll();
        Assert.Contains("Tilt.dll: outside-tilt not vetted; livestems processors --vet Tilt.dll", Listing(), StringComparison.Ordinal);
        Assert.Equal(0, CommandLine.Run("processors", "--trust", "Tilt.dll", "--yes").ExitCode);
        Assert.Matches("Tilt\\.dll: outside-tilt keeps the contract, [0-9.]+ ns a frame", Listing());
    }

    [Fact]
    public void NoToOneProcessorLeavesTheOthersOfItsFile()
    {
        Files.Put("Hostile");
        Files.TrustAll();
        CommandLine.Result refuse = CommandLine.Run("processors", "--refuse", "hostile-blocks");
        Assert.Contains("hostile-blocks of Hostile.dll is refused: it does not run, the others do", refuse.Output, StringComparison.Ordinal);
        Assert.Equal("loaded", (string)Listed()["state"]!);
        Assert.Equal(["hostile-blocks"], Listed()["refusedProcessors"]!.AsArray().Select(id => (string)id!));
        Assert.Contains("trusted, without hostile-blocks", Listing(), StringComparison.Ordinal);
        Assert.Contains("hostile-blocks is refused, so it runs nowhere", CommandLine.Run("processors", "--isolate", "hostile-blocks").Errors, StringComparison.Ordinal);
        Import();
        string album = Path.Combine(In("album"), "album.json");
        CommandLine.Run("set", In("album"), "--add", "1/Bass=hostile-latency");
        File.WriteAllText(album, File.ReadAllText(album).Replace("hostile-latency", "hostile-blocks", StringComparison.Ordinal));
        CommandLine.Run("set", In("album"), "--add", "1/bus=hostile-latency");
        JsonNode master = Render("masters")[0]!;
        Assert.Contains(master["remarks"]!.AsArray(), remark => ((string)remark!).Contains("'hostile-blocks' is not here (Hostile.dll is trusted without it: you have refused it)", StringComparison.Ordinal));
        Assert.Equal("hostile-latency", (string)Assert.Single(master["outsideProcessors"]!.AsArray())!["processor"]!);

        // One that is apart stays so, and so does the no.
        CommandLine.Run("processors", "--isolate", "Hostile.dll");
        Assert.Equal(["hostile-blocks"], Listed()["refusedProcessors"]!.AsArray().Select(id => (string)id!));
    }

    [Theory]
    [InlineData("--trust", "text.dll", "text.dll: is no .NET assembly, or a damaged one; copy or build it anew")]
    [InlineData("--trust", "arm.dll", "arm.dll: was built for Arm processors and this machine has ")]
    [InlineData("--trust", "needs.dll", "needs.dll: needs Sistem.Runtime.dll, which is not beside needs.dll; copy it there")]
    [InlineData("--trust", "newer.dll", "newer.dll: was built for LiveStems.Processing 1.7.0 and this program has 1.0.0")]
    [InlineData("--trust", "dies.dll", "Outside.DiesAtOnce.DiesAtOnceProcessor cannot be made: InvalidOperationException, the tide is out")]
    [InlineData("--trust", "nobody.dll", "no 'nobody.dll' in ")]
    [InlineData("--isolate", "good.dll", "good.dll is not trusted, so nothing of it runs; say yes to it first: --trust good.dll")]
    [InlineData("--vet", "good.dll", "good.dll is not trusted, so nothing of it runs; --trust good.dll vets it")]
    [InlineData("--author", ".", "not all of ")]
    public void BadInputIsOneLine(string option, string file, string told)
    {
        File.WriteAllText(Path.Combine(Files.Places.Folder, "text.dll"), "hello");
        Files.Put("Tilt", "arm.dll", OutsideFiles.ForOtherMachine);
        Files.Put("Tilt", "needs.dll", OutsideFiles.WithMissingNeed);
        Files.Put("Tilt", "newer.dll", bytes => OutsideFiles.ForContract(bytes, new Version(1, 7)));
        Files.Put("DiesAtOnce", "dies.dll");
        Files.Put("Tilt", "good.dll");
        CommandLine.Result result = CommandLine.Run("processors", option, file, "--yes", "--json");
        Assert.Equal(2, result.ExitCode);
        Assert.Contains(told, result.Errors, StringComparison.Ordinal);
        Assert.Single(result.Errors.TrimEnd().Split('\n'));
        Assert.Empty(result.Output);
    }

    [Fact]
    public void SecondFileOfOneIdIsToldInOneLine()
    {
        Files.Put("Tilt");
        CommandLine.Run("processors", "--trust", "Tilt.dll", "--yes");
        Files.Put("Tilt", "Twin.dll", OutsideFiles.Rebuilt);
        CommandLine.Result result = CommandLine.Run("processors", "--trust", "Twin.dll", "--yes", "--json");
        Assert.Equal(2, result.ExitCode);
        Assert.Contains("its id 'outside-tilt' belongs to another processor already; keep one of the two in the folder", result.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void WhatAnAuthorSaysOfHimselfCanNeitherMoveTheCursorNorTurnTheWriting()
    {
        Files.Put("Tilt", change: OutsideFiles.SignedBy("\u001b[2J\u202eKelp Led"));
        string list = Listing();
        Assert.Contains("\ufffd[2J\ufffdKelp Led", list, StringComparison.Ordinal);
        string shown = list + CommandLine.Run("processors", "--trust", "Tilt.dll", "--yes").Output;
        Assert.DoesNotContain(shown, letter => letter is '\u001b' or '\u202e');
    }

    [Theory]
    [InlineData("--trust")]
    [InlineData("--author")]
    public void NobodyIsAskedAboutAFileThatIsNotShown(string option)
    {
        Files.Put("Tilt");
        CommandLine.Result result = CommandLine.Run("processors", option, "Tilt.dll", "--json");
        Assert.Equal((2, $"livestems: {option} with --json asks nothing; look at the file with 'livestems processors', then give --yes\n"), (result.ExitCode, result.Errors));
        Assert.Equal("new", (string)Listed()["state"]!);
    }

    [Fact]
    public void NoHoldsWhateverTheFileWasCalledBefore()
    {
        string path = Files.Put("Tilt");
        Files.TrustAll();
        File.Move(path, Path.Combine(Files.Places.Folder, "Brighter.dll"));
        Assert.Equal("loaded", (string)Listed()["state"]!);
        Assert.Equal(0, CommandLine.Run("processors", "--refuse", "Brighter.dll").ExitCode);
        Assert.Equal("refused", (string)Listed()["state"]!);
        File.Move(Path.Combine(Files.Places.Folder, "Brighter.dll"), path);
        Assert.Equal("refused", (string)Listed()["state"]!);
    }
}
