using System.Text.Json.Nodes;
using LiveStems.Files.Writing;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.App.Verbs;

public sealed class VerbTests : IDisposable
{
    private const int SampleRate = 48_000;

    private readonly string folder = Directory.CreateTempSubdirectory("livestems verbs ü ").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void FolderOfStemsBecomesAFinishedMasterByCommandsAlone()
    {
        WriteStems("01 Foghorn Waltz", 6);
        Assert.Equal(0, CommandLine.Run("import", In("stems"), "--into", In("album"), "--title", "T").ExitCode);
        CommandLine.Result set = CommandLine.Run(
            "set", In("album"), "--add", "1/Bass=equaliser", "--add", "1/bus=limiter",
            "1/Bass/equaliser.band1.frequencyHz=45 Hz", "targets.integratedLufs=-16", "targets.ceilingDbtp=-1.5 dBTP");
        Assert.Equal((0, string.Empty), (set.ExitCode, set.Errors));
        Assert.Contains("45 Hz", set.Output, StringComparison.Ordinal);
        Assert.Equal(0, CommandLine.Run("set", In("album"), "--to-target").ExitCode);

        CommandLine.Result render = CommandLine.Run("render", In("album"), "--out", In("masters"), "--json");
        Assert.Equal((0, string.Empty), (render.ExitCode, render.Errors));
        JsonNode master = JsonNode.Parse(render.Output)![0]!;
        Assert.Equal(-16, (double)master["integratedLufs"]!, 0.1);
        Assert.True((double)master["truePeakDbtp"]! <= -1.5);
        Assert.Empty(master["remarks"]!.AsArray());

        CommandLine.Result measure = CommandLine.Run("measure", (string)master["file"]!, "--json");
        JsonNode measured = JsonNode.Parse(measure.Output)![0]!;
        Assert.Equal((double)master["integratedLufs"]!, (double)measured["integratedLufs"]!, 0.01);
        Assert.Equal(24, (int)measured["bitsPerSample"]!);
    }

    [Fact]
    public void RenderIsTheSameBytesOnAnyNumberOfThreads()
    {
        WriteStems("Song", 2);
        CommandLine.Run("import", In("stems"), "--into", In("album"));
        CommandLine.Run("set", In("album"), "--add", "1/bus=compressor", "--add", "1/bus=limiter", "1/bus/limiter.inputGainDb=9");
        CommandLine.Run("render", In("album"), "--out", In("one"), "--threads", "1");
        CommandLine.Run("render", In("album"), "--out", In("two"), "--threads", "2");
        Assert.Equal(File.ReadAllBytes(In("one/01 Song.wav")), File.ReadAllBytes(In("two/01 Song.wav")));
    }

    [Fact]
    public void StandingMasterIsNotReplacedUnasked()
    {
        WriteStems("Song", 1);
        CommandLine.Run("import", In("stems"), "--into", In("album"));
        CommandLine.Run("render", In("album"), "--out", In("masters"));
        CommandLine.Result again = CommandLine.Run("render", In("album"), "--out", In("masters"));
        Assert.Equal(2, again.ExitCode);
        Assert.Contains("--replace", again.Errors, StringComparison.Ordinal);
        Assert.Equal(0, CommandLine.Run("render", In("album"), "--out", In("masters"), "--replace").ExitCode);
    }

    [Fact]
    public void InterruptedRenderLeavesNoFileBehind()
    {
        WriteStems("Song", 2);
        CommandLine.Run("import", In("stems"), "--into", In("album"));
        using CancellationTokenSource interruption = new();
        interruption.Cancel();
        StringWriter errors = new();
        int exitCode = LiveStems.App.Program.Run(["render", In("album"), "--out", In("masters")], TextWriter.Null, errors, interruption.Token);
        Assert.Equal(130, exitCode);
        Assert.Empty(Directory.EnumerateFiles(In("masters")));
    }

    [Theory]
    [InlineData("1/Bass.gainDb=+90 dB")]
    [InlineData("1/Bass.gainDb=loud")]
    [InlineData("1/Trombone.gainDb=0")]
    [InlineData("nonsense")]
    public void ImpossibleChangeIsOneLineAndLeavesTheAlbumAsItWas(string assignment)
    {
        WriteStems("Song", 1);
        CommandLine.Run("import", In("stems"), "--into", In("album"));
        byte[] before = File.ReadAllBytes(In("album/album.json"));
        CommandLine.Result result = CommandLine.Run("set", In("album"), "1/Drums.gainDb=-1", assignment);
        Assert.Equal(2, result.ExitCode);
        Assert.Single(result.Errors.Trim().Split('\n'));
        Assert.Equal(before, File.ReadAllBytes(In("album/album.json")));
    }

    [Theory]
    [InlineData("measure", "/nowhere/at all.wav")]
    [InlineData("show", "/nowhere")]
    [InlineData("probe", "fuzz-box")]
    [InlineData("probe", "compressor", "--set", "thresholdDb=3 kHz")]
    [InlineData("probe", "compressor", "--set", "ratio=0.1:1")]
    [InlineData("render", "/nowhere", "--out", "/tmp/x")]
    [InlineData("render")]
    [InlineData("nonsense")]
    public void BadUseIsOneLineAndExitCodeTwo(params string[] arguments)
    {
        CommandLine.Result result = CommandLine.Run(arguments);
        Assert.Equal(2, result.ExitCode);
        string line = Assert.Single(result.Errors.Trim().Split('\n'));
        Assert.StartsWith("livestems: ", line, StringComparison.Ordinal);
    }

    [Fact]
    public void CheckSpectrumAndMeasureReadAnAlbum()
    {
        WriteStems("01 Foghorn Waltz", 4);
        CommandLine.Result folder = CommandLine.Run("check", In("stems"), "--json");
        Assert.Equal((0, string.Empty), (folder.ExitCode, folder.Errors));
        Assert.Equal("Foghorn Waltz", (string)JsonNode.Parse(folder.Output)!["songs"]![0]!["title"]!);
        CommandLine.Run("import", In("stems"), "--into", In("album"));
        CommandLine.Result check = CommandLine.Run("check", In("album"), "--letter", "--picture", In("check.png"));
        Assert.Equal((0, string.Empty), (check.ExitCode, check.Errors));
        Assert.True(new FileInfo(In("check.png")).Length > 1000);

        CommandLine.Result spectrum = CommandLine.Run("spectrum", In("album"), "--song", "1", "--stem", "Bass", "--bands", "6", "--crest", "--json");
        Assert.Equal((0, string.Empty), (spectrum.ExitCode, spectrum.Errors));
        JsonNode white = JsonNode.Parse(spectrum.Output)![0]!;
        Assert.Equal(3.01, (double)white["tiltDbPerOctave"]!, 0.2);
        Assert.Equal(60, white["bands"]!.AsArray().Count);

        CommandLine.Result measure = CommandLine.Run("measure", In("album"), "--over-time", "--json");
        Assert.Equal((0, string.Empty), (measure.ExitCode, measure.Errors));
        JsonNode song = JsonNode.Parse(measure.Output)!["songs"]![0]!;
        Assert.Equal(3, song["stems"]!.AsArray().Count);
        Assert.Equal(1, song["stems"]!.AsArray().Sum(stem => (double)stem!["loudnessShare"]!), 0.001);
        Assert.Equal((double)song["integratedLufs"]!, (double)JsonNode.Parse(measure.Output)!["integratedLufs"]!, 0.01);

        File.Delete(Directory.GetFiles(In("album"), "*Bass.wav", SearchOption.AllDirectories)[0]);
        CommandLine.Result missing = CommandLine.Run("check", In("album"));
        Assert.Equal(1, missing.ExitCode);
        Assert.Contains("Bass cannot be read", missing.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void EveryVerbHasHelpWithExamples()
    {
        foreach (string verb in new[] { "demo", "import", "show", "set", "check", "spectrum", "measure", "render", "play", "devices", "probe", "presets", "completion" })
        {
            CommandLine.Result result = CommandLine.Run(verb, "--help");
            Assert.Equal(0, result.ExitCode);
            Assert.Contains("Examples:", result.Output, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void ProbeOfABellShowsItsGainAtItsCentre()
    {
        CommandLine.Result result = CommandLine.Run(
            "probe", "equaliser", "--json", "--set", "band2.on=on", "--set", "band2.shape=bell", "--set", "band2.frequencyHz=1016 Hz", "--set", "band2.gainDb=-6 dB");
        Assert.Equal(0, result.ExitCode);
        JsonNode nearest = JsonNode.Parse(result.Output)!["response"]!.AsArray().MinBy(point => Math.Abs((double)point!["frequencyHz"]! - 1016))!;
        Assert.Equal(-6, (double)nearest["gainDb"]!, 0.02);
    }

    [Theory]
    [InlineData("bash")]
    [InlineData("zsh")]
    [InlineData("fish")]
    [InlineData("powershell")]
    public void CompletionScriptAsksTheProgramItself(string shell)
    {
        Assert.Contains("[suggest:", CommandLine.Run("completion", shell).Output, StringComparison.Ordinal);
        CommandLine.Result suggestions = CommandLine.Run("[suggest:13]", "livestems pro");
        Assert.Contains("probe", suggestions.Output, StringComparison.Ordinal);
    }

    private string In(string name) => Path.Combine(folder, name);

    private void WriteStems(string song, int seconds)
    {
        string stems = In(Path.Combine("stems", song));
        Directory.CreateDirectory(stems);
        int seed = 1;
        foreach (string name in new[] { "01 Drums", "02 Bass", "03 Lead voice" })
        {
            using WavWriter writer = new(Path.Combine(stems, name + ".wav"), new WavFormat(SampleRate, 24));
            writer.Write(Noise.White(seconds * SampleRate, seed++, 0.1f), Noise.White(seconds * SampleRate, seed++, 0.1f));
            writer.Complete();
        }
    }
}
