using System.Diagnostics;
using System.Text.Json.Nodes;
using LiveStems.Engine.Hosting;
using LiveStems.Files.Writing;
using LiveStems.Tests.Engine.Hosting;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.App.Verbs;

/// <summary>Processors of others by commands alone, and albums that use them.</summary>
public sealed class ProcessorsVerbTests : IDisposable
{
    private const int SampleRate = 48_000;

    private readonly OutsideFiles files = new();
    private readonly (string? Folder, string? Trust) before = (Environment.GetEnvironmentVariable(HostingPlaces.FolderVariable), Environment.GetEnvironmentVariable(HostingPlaces.TrustVariable));

    public ProcessorsVerbTests()
    {
        Environment.SetEnvironmentVariable(HostingPlaces.FolderVariable, files.Places.Folder);
        Environment.SetEnvironmentVariable(HostingPlaces.TrustVariable, files.Places.TrustFile);
    }

    public void Dispose()
    {
        Environment.SetEnvironmentVariable(HostingPlaces.FolderVariable, before.Folder);
        Environment.SetEnvironmentVariable(HostingPlaces.TrustVariable, before.Trust);
        files.Dispose();
    }

    [Fact]
    public void FileGoesFromUnknownToTrustedToRefused()
    {
        files.Put("Tilt");
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
        files.Put("Tilt", Path.Combine("one", "Tilt.dll"));
        files.Put("Tilt", Path.Combine("two", "Tilt.dll"), OutsideFiles.Rebuilt);
        ProcessorHost host = files.Open();
        host.Decide(OutsideFiles.Decision(host.Assemblies[0].Facts, false, "outside-tilt"));
        host.Decide(OutsideFiles.Decision(host.Assemblies[1].Facts, false, "outside-tilt"));
        Assert.Equal([OutsideState.Refused, OutsideState.Refused], files.Open().Assemblies.Select(each => each.State));
        Assert.Equal(0, CommandLine.Run("processors", "--forget", host.Assemblies[0].Facts.File).ExitCode);
        OutsideAssembly[] now = [.. files.Open().Assemblies];

        // What is left of its name is about another content.
        Assert.Equal([OutsideState.Changed, OutsideState.Refused], now.Select(each => each.State));
    }

    [Fact]
    public void OneThatBreaksTheContractIsRefusedWithTheReason()
    {
        files.Put("Deadly");
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
        files.Put("Tilt");
        files.TrustAll();
        Assert.Contains("Tilt.dll: outside-tilt not vetted; livestems processors --vet Tilt.dll", Listing(), StringComparison.Ordinal);
        Assert.Equal(0, CommandLine.Run("processors", "--trust", "Tilt.dll", "--yes").ExitCode);
        Assert.Matches("Tilt\\.dll: outside-tilt keeps the contract, [0-9.]+ ns a frame", Listing());
    }

    [Fact]
    public void NoToOneProcessorLeavesTheOthersOfItsFile()
    {
        files.Put("Hostile");
        files.TrustAll();
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
        File.WriteAllText(Path.Combine(files.Places.Folder, "text.dll"), "hello");
        files.Put("Tilt", "arm.dll", OutsideFiles.ForOtherMachine);
        files.Put("Tilt", "needs.dll", OutsideFiles.WithMissingNeed);
        files.Put("Tilt", "newer.dll", bytes => OutsideFiles.ForContract(bytes, new Version(1, 7)));
        files.Put("DiesAtOnce", "dies.dll");
        files.Put("Tilt", "good.dll");
        CommandLine.Result result = CommandLine.Run("processors", option, file, "--yes", "--json");
        Assert.Equal(2, result.ExitCode);
        Assert.Contains(told, result.Errors, StringComparison.Ordinal);
        Assert.Single(result.Errors.TrimEnd().Split('\n'));
        Assert.Empty(result.Output);
    }

    [Fact]
    public void SecondFileOfOneIdIsToldInOneLine()
    {
        files.Put("Tilt");
        CommandLine.Run("processors", "--trust", "Tilt.dll", "--yes");
        files.Put("Tilt", "Twin.dll", OutsideFiles.Rebuilt);
        CommandLine.Result result = CommandLine.Run("processors", "--trust", "Twin.dll", "--yes", "--json");
        Assert.Equal(2, result.ExitCode);
        Assert.Contains("its id 'outside-tilt' belongs to another processor already; keep one of the two in the folder", result.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void OneInItsOwnProcessRendersTheSameBytes()
    {
        files.Put("Tilt");
        CommandLine.Run("processors", "--trust", "Tilt.dll", "--yes");
        Import();
        CommandLine.Run("set", In("album"), "--add", "1/Bass=outside-tilt", "1/Bass/outside-tilt.tiltDb=5 dB");
        Render("inside");
        CommandLine.Result isolate = CommandLine.Run("processors", "--isolate", "outside-tilt");
        Assert.Contains("Tilt.dll runs in a process of its own", isolate.Output, StringComparison.Ordinal);
        Assert.True((bool)Listed()["runsInItsOwnProcess"]!);
        Render("apart");
        Assert.Equal(File.ReadAllBytes(In("inside/01 Song.wav")), File.ReadAllBytes(In("apart/01 Song.wav")));
        CommandLine.Run("processors", "--share", "outside-tilt");
        Assert.False((bool)Listed()["runsInItsOwnProcess"]!);
    }

    [Fact]
    public void AlbumAsksForAProcessOfItsOwnInOnePlace()
    {
        files.Put("Tilt");
        CommandLine.Run("processors", "--trust", "Tilt.dll", "--yes");
        Import();
        CommandLine.Run("set", In("album"), "--add", "1/Bass=outside-tilt", "--add", "1/bus=outside-tilt", "1/Bass/outside-tilt.tiltDb=5 dB");
        JsonNode inside = Render("inside")[0]!;
        Assert.All(inside["outsideProcessors"]!.AsArray(), use => Assert.False((bool)use!["ranInItsOwnProcess"]!));
        Assert.Equal(0, CommandLine.Run("set", In("album"), "1/Bass/outside-tilt.ownProcess=on").ExitCode);
        Assert.Contains("ownProcess = on", CommandLine.Run("show", In("album"), "1/Bass/outside-tilt").Output, StringComparison.Ordinal);
        Assert.True((bool)Slot()["ownProcess"]!);
        JsonNode apart = Render("apart")[0]!;
        Assert.Equal([true, false], apart["outsideProcessors"]!.AsArray().Select(use => (bool)use!["ranInItsOwnProcess"]!));
        Assert.Equal(File.ReadAllBytes(In("inside/01 Song.wav")), File.ReadAllBytes(In("apart/01 Song.wav")));

        // The program's own need none.
        CommandLine.Run("set", In("album"), "--add", "1/Bass=gain");
        Assert.Contains("has no parameter 'ownProcess'", CommandLine.Run("set", In("album"), "1/Bass/gain.ownProcess=on").Errors, StringComparison.Ordinal);
        CommandLine.Run("set", In("album"), "1/Bass/outside-tilt.ownProcess=off");
        Assert.Null(Slot()["ownProcess"]);
    }

    [Fact]
    public void OneProcessorOfAFileRunsApartAndTheOthersInside()
    {
        files.Put("Hostile");
        files.TrustAll();
        Assert.Contains("hostile-nan of Hostile.dll runs in a process of its own", CommandLine.Run("processors", "--isolate", "hostile-nan").Output, StringComparison.Ordinal);
        Assert.Equal(["hostile-nan"], Apart());
        Assert.False((bool)Listed()["runsInItsOwnProcess"]!);
        CommandLine.Run("processors", "--isolate", "hostile-blocks");
        Assert.Equal(["hostile-blocks", "hostile-nan"], Apart().Order());
        Import();
        CommandLine.Run("set", In("album"), "--add", "1/Bass=hostile-blocks", "--add", "1/bus=hostile-latency");
        Assert.Equal([true, false], Render("masters")[0]!["outsideProcessors"]!.AsArray().Select(use => (bool)use!["ranInItsOwnProcess"]!));
        CommandLine.Run("processors", "--share", "hostile-nan");
        Assert.Equal(["hostile-blocks"], Apart());
        CommandLine.Run("processors", "--isolate", "Hostile.dll");
        Assert.True((bool)Listed()["runsInItsOwnProcess"]!);
        Assert.Equal(OutsideFiles.Makers("Hostile").Count, Apart().Length);

        // A no and a later yes leave it where it was.
        CommandLine.Run("processors", "--refuse", "Hostile.dll");
        Assert.True((bool)Listed()["runsInItsOwnProcess"]!);
        CommandLine.Run("processors", "--share", "Hostile.dll");

        static string[] Apart() => [.. Listed()["processorsInTheirOwnProcess"]!.AsArray().Select(id => (string)id!)];
    }

    [Theory]
    [InlineData("\"version\": 1,", "\"version\": 9,", "they were made with version 9, and version 1 is here")]
    [InlineData("\"tiltDb\": 5", "\"tiltDb\": 5, \"glow\": [1]", "version 1 of it does not understand them: glow: outside-tilt has no such parameter")]
    [InlineData("\"tiltDb\": 5", "\"tiltDb\": 500", "version 1 of it does not understand them: tiltDb: ")]
    public void SettingsOfAnotherVersionArePassedByKeptAndTold(string from, string to, string why)
    {
        files.Put("Tilt");
        Import();
        Render("never");
        CommandLine.Run("processors", "--trust", "Tilt.dll", "--yes");
        CommandLine.Run("set", In("album"), "--add", "1/Bass=outside-tilt", "1/Bass/outside-tilt.tiltDb=5 dB");
        string album = Path.Combine(In("album"), "album.json");
        string text = File.ReadAllText(album);
        File.WriteAllText(album, text.Replace(from, to, StringComparison.Ordinal));
        JsonNode slot = Slot();
        CommandLine.Result show = CommandLine.Run("show", In("album"));
        Assert.Contains($"the processor 'outside-tilt' cannot take its settings ({why}", show.Output + show.Errors, StringComparison.Ordinal);
        Assert.Contains($"cannot take its settings ({why}", (string)Render("without")[0]!["remarks"]![0]!, StringComparison.Ordinal);
        Assert.Equal(File.ReadAllBytes(In("never/01 Song.wav")), File.ReadAllBytes(In("without/01 Song.wav")));
        Assert.Equal(0, CommandLine.Run("set", In("album"), "1/Bass.gainDb=0.5 dB").ExitCode);
        Assert.True(JsonNode.DeepEquals(slot, Slot()));
    }

    [Fact]
    public void AlbumWithAMissingProcessorPlaysWithoutItKeepsItsSettingsAndSaysSo()
    {
        files.Put("Tilt");
        Import();
        Render("never");
        CommandLine.Run("processors", "--trust", "Tilt.dll", "--yes");
        CommandLine.Run("set", In("album"), "--add", "1/Bass=outside-tilt", "1/Bass/outside-tilt.tiltDb=5 dB");
        JsonNode slot = Slot();
        CommandLine.Run("processors", "--refuse", "Tilt.dll");
        CommandLine.Result show = CommandLine.Run("show", In("album"));
        Assert.Contains("'outside-tilt' is not here (you have refused Tilt.dll); the sound passes it by, its settings stay", show.Output + show.Errors, StringComparison.Ordinal);
        Assert.Equal(0, CommandLine.Run("set", In("album"), "1/Bass.note=kept").ExitCode * CommandLine.Run("set", In("album"), "1/Bass.gainDb=0.5 dB").ExitCode);
        CommandLine.Run("set", In("album"), "1/Bass.gainDb=0 dB");
        Assert.True(JsonNode.DeepEquals(slot, Slot()));
        JsonNode master = Render("without")[0]!;
        Assert.Contains(master["remarks"]!.AsArray(), remark => ((string)remark!).Contains("'outside-tilt' is not here (you have refused Tilt.dll)", StringComparison.Ordinal));
        Assert.Equal(File.ReadAllBytes(In("never/01 Song.wav")), File.ReadAllBytes(In("without/01 Song.wav")));
        File.Delete(Path.Combine(files.Places.Folder, "Tilt.dll"));
        Assert.Contains("'outside-tilt' is not here", (string)Render("gone")[0]!["remarks"]![0]!, StringComparison.Ordinal);
        Assert.True(JsonNode.DeepEquals(slot, Slot()));
    }

    [Fact]
    public void FaultsOfARenderAreToldCountedAndKept()
    {
        files.Put("Deadly");
        files.TrustAll();
        Import();
        CommandLine.Run("set", In("album"), "--add", "1/Bass=deadly-length");
        JsonNode use = Render("masters")[0]!["outsideProcessors"]![0]!;
        Assert.Equal(("Bass", "deadly-length", 1, "has failed (it wrote outside its block)"), ((string)use["place"]!, (string)use["processor"]!, (int)use["faults"]!, (string)use["lastFault"]!));
        Assert.True((long)use["framesLost"]! > SampleRate);
        Assert.Contains("deadly-length so far: 1 fault, ", Listing(), StringComparison.Ordinal);
    }

    [Fact]
    public void HangingRenderEndsWithOneLineAndLeavesNothingBehind()
    {
        files.Put("Endless");
        files.TrustAll();
        Import();
        CommandLine.Run("set", In("album"), "--add", "1/Bass=endless-later");
        CommandLine.Result render = CommandLine.Run("render", In("album"), "--out", In("masters"));
        Assert.Equal((2, "livestems: endless-later does not come to an end; nothing was rendered: bypass it, or 'livestems processors --refuse endless-later', and begin again\n"), (render.ExitCode, render.Errors));
        Assert.Empty(Directory.EnumerateFiles(In("masters")));
    }

    [Fact]
    public async Task RenderEndsThoughCodeOfOthersLeavesAThreadBehind()
    {
        files.Put("Endless");
        files.TrustAll();
        Import();
        CommandLine.Run("set", In("album"), "--add", "1/Bass=endless-thread");
        string program = Path.Combine(AppContext.BaseDirectory, OperatingSystem.IsWindows() ? "livestems.exe" : "livestems");
        ProcessStartInfo start = new(program, ["render", In("album"), "--out", In("masters")]) { RedirectStandardOutput = true, RedirectStandardError = true };
        using Process render = Process.Start(start)!;
        Task<string> errors = render.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        _ = render.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        bool hasEnded = render.WaitForExit(TimeSpan.FromMinutes(1));
        if (!hasEnded)
        {
            render.Kill();
        }

        Assert.True(hasEnded);
        Assert.Equal(0, render.ExitCode);
        Assert.True(File.Exists(In("masters/01 Song.wav")), await errors);
    }

    [Fact]
    public void WhatAnAuthorSaysOfHimselfCanNeitherMoveTheCursorNorTurnTheWriting()
    {
        files.Put("Tilt", change: OutsideFiles.SignedBy("\u001b[2J\u202eKelp Led"));
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
        files.Put("Tilt");
        CommandLine.Result result = CommandLine.Run("processors", option, "Tilt.dll", "--json");
        Assert.Equal((2, $"livestems: {option} with --json asks nothing; look at the file with 'livestems processors', then give --yes\n"), (result.ExitCode, result.Errors));
        Assert.Equal("new", (string)Listed()["state"]!);
    }

    [Fact]
    public void NoHoldsWhateverTheFileWasCalledBefore()
    {
        string path = files.Put("Tilt");
        files.TrustAll();
        File.Move(path, Path.Combine(files.Places.Folder, "Brighter.dll"));
        Assert.Equal("loaded", (string)Listed()["state"]!);
        Assert.Equal(0, CommandLine.Run("processors", "--refuse", "Brighter.dll").ExitCode);
        Assert.Equal("refused", (string)Listed()["state"]!);
        File.Move(Path.Combine(files.Places.Folder, "Brighter.dll"), path);
        Assert.Equal("refused", (string)Listed()["state"]!);
    }

    [Fact]
    public void ProbeOfOneThatDeclaresTooMuchLatencyIsOneLine()
    {
        files.Put("Hostile");
        files.TrustAll();
        CommandLine.Result probe = CommandLine.Run("probe", "hostile-late");
        Assert.Equal((2, "livestems: hostile-late: declares a latency of 2147483647 frames; from 0 to 10 s can be compensated; nothing was measured\n"), (probe.ExitCode, probe.Errors));
    }

    [Fact]
    public void PresetsLieBesideOutsideProcessorsAndKnowTheirVersion()
    {
        files.Put("Tilt", Path.Combine("tilt", "Tilt.dll"));
        string presets = Path.Combine(files.Places.Folder, "tilt", "presets");
        Directory.CreateDirectory(presets);
        string Preset(int version) => $$"""
            { "schema": 1, "name": "Lift", "role": "bass", "purpose": "opens a dull stem", "listenFor": "air, no hiss",
              "chain": [ { "processor": "outside-tilt", "version": {{version}}, "settings": { "tiltDb": "3 dB" } } ] }
            """;
        File.WriteAllText(Path.Combine(presets, "lift.json"), Preset(1));
        File.WriteAllText(Path.Combine(presets, "lift-old.json"), Preset(7));
        File.WriteAllText(Path.Combine(presets, "torn.json"), "{");
        Import();
        CommandLine.Result without = CommandLine.Run("set", In("album"), "--preset", "1/Bass=lift");
        Assert.Equal(2, without.ExitCode);
        CommandLine.Run("processors", "--trust", "Tilt.dll", "--yes");
        CommandLine.Result list = CommandLine.Run("presets", "--json");
        JsonNode lift = JsonNode.Parse(list.Output)!.AsArray().Single(each => (string)each!["preset"]! == "lift")!;
        Assert.Equal(("outside-tilt", 1), ((string)lift["processors"]![0]!, (int)lift["versions"]![0]!));
        Assert.Contains("torn.json: is no preset", list.Errors, StringComparison.Ordinal);
        CommandLine.Result set = CommandLine.Run("set", In("album"), "--preset", "1/Bass=lift");
        Assert.Equal((0, string.Empty), (set.ExitCode, set.Errors));
        Assert.Equal(3, (double)Slot()["parameters"]!["tiltDb"]!);
        Assert.Contains("was made with version 7 of outside-tilt, which is newer than version 1 here", CommandLine.Run("set", In("album"), "--preset", "1/Bass=lift-old").Errors, StringComparison.Ordinal);
    }

    private string In(string name) => Path.Combine(files.Root, name);

    private static JsonNode Listed() => JsonNode.Parse(CommandLine.Run("processors", "--json").Output)!["assemblies"]![0]!;

    private static string Listing() => CommandLine.Run("processors").Output;

    private JsonArray Render(string folder)
    {
        CommandLine.Result render = CommandLine.Run("render", In("album"), "--out", In(folder), "--json");
        Assert.Equal((0, string.Empty), (render.ExitCode, render.Errors));
        return JsonNode.Parse(render.Output)!.AsArray();
    }

    private JsonNode Slot() => JsonNode.Parse(File.ReadAllText(Path.Combine(In("album"), "album.json")))!["songs"]![0]!["stems"]![0]!["chain"]!["slots"]![0]!.DeepClone();

    private void Import()
    {
        string stems = Path.Combine(In("stems"), "Song");
        Directory.CreateDirectory(stems);
        using (WavWriter writer = new(Path.Combine(stems, "Bass.wav"), new WavFormat(SampleRate, 24)))
        {
            float[] noise = Noise.White(3 * SampleRate, 6, 0.1f);
            writer.Write(noise, noise);
            writer.Complete();
        }

        Assert.Equal(0, CommandLine.Run("import", In("stems"), "--into", In("album"), "--title", "T").ExitCode);
    }
}
