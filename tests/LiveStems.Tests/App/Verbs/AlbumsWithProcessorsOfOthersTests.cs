using System.Diagnostics;
using System.Text.Json.Nodes;
using LiveStems.Tests.Engine.Hosting;
using Xunit;

namespace LiveStems.Tests.App.Verbs;

/// <summary>Albums that use processors of others, by commands alone.</summary>
public sealed class AlbumsWithProcessorsOfOthersTests : ProcessorsByCommand
{
    [Fact]
    public void OneInItsOwnProcessRendersTheSameBytes()
    {
        Files.Put("Tilt");
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
        Files.Put("Tilt");
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
        Files.Put("Hostile");
        Files.TrustAll();
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
        Files.Put("Tilt");
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
        Files.Put("Tilt");
        Import();
        Render("never");
        CommandLine.Run("processors", "--trust", "Tilt.dll", "--yes");
        CommandLine.Run("set", In("album"), "--add", "1/Bass=outside-tilt", "1/Bass/outside-tilt.tiltDb=5 dB");
        JsonNode slot = Slot();
        CommandLine.Run("processors", "--refuse", "Tilt.dll");
        CommandLine.Result show = CommandLine.Run("show", In("album"));
        Assert.Contains("'outside-tilt' is not here (you have refused Tilt.dll); the sound passes it by, its settings stay", show.Output + show.Errors, StringComparison.Ordinal);
        Assert.Equal(0, CommandLine.Run("set", In("album"), "1/Bass.gainDb=0.5 dB").ExitCode);
        CommandLine.Run("set", In("album"), "1/Bass.gainDb=0 dB");
        Assert.True(JsonNode.DeepEquals(slot, Slot()));
        JsonNode master = Render("without")[0]!;
        Assert.Contains(master["remarks"]!.AsArray(), remark => ((string)remark!).Contains("'outside-tilt' is not here (you have refused Tilt.dll)", StringComparison.Ordinal));
        Assert.Equal(File.ReadAllBytes(In("never/01 Song.wav")), File.ReadAllBytes(In("without/01 Song.wav")));
        File.Delete(Path.Combine(Files.Places.Folder, "Tilt.dll"));
        Assert.Contains("'outside-tilt' is not here", (string)Render("gone")[0]!["remarks"]![0]!, StringComparison.Ordinal);
        Assert.True(JsonNode.DeepEquals(slot, Slot()));
    }

    [Fact]
    public void FaultsOfARenderAreToldCountedAndKept()
    {
        Files.Put("Deadly");
        Files.TrustAll();
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
        Files.Put("Endless");
        Files.TrustAll();
        Import();
        CommandLine.Run("set", In("album"), "--add", "1/Bass=endless-later");
        CommandLine.Result render = CommandLine.Run("render", In("album"), "--out", In("masters"));
        Assert.Equal((2, "livestems: endless-later does not come to an end; nothing was rendered: bypass it, or 'livestems processors --refuse endless-later', and begin again\n"), (render.ExitCode, render.Errors));
        Assert.Empty(Directory.EnumerateFiles(In("masters")));
    }

    [Fact]
    public async Task RenderEndsThoughCodeOfOthersLeavesAThreadBehind()
    {
        Files.Put("Endless");
        Files.TrustAll();
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
    public void ProbeOfOneThatDeclaresTooMuchLatencyIsOneLine()
    {
        Files.Put("Hostile");
        Files.TrustAll();
        CommandLine.Result probe = CommandLine.Run("probe", "hostile-late");
        Assert.Equal((2, "livestems: hostile-late: declares a latency of 2147483647 frames; from 0 to 10 s can be compensated; nothing was measured\n"), (probe.ExitCode, probe.Errors));
    }

    [Fact]
    public void PresetsLieBesideOutsideProcessorsAndKnowTheirVersion()
    {
        Files.Put("Tilt", Path.Combine("tilt", "Tilt.dll"));
        string presets = Path.Combine(Files.Places.Folder, "tilt", "presets");
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
}
