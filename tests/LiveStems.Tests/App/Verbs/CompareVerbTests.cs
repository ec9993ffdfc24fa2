using System.Text.Json.Nodes;
using LiveStems.Files.Writing;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.App.Verbs;

public sealed class CompareVerbTests : IDisposable
{
    private const int SampleRate = 48_000;

    private readonly string folder = Directory.CreateTempSubdirectory("livestems compare ").FullName;

    public CompareVerbTests()
    {
        Directory.CreateDirectory(In("stems/Song"));
        foreach ((string name, int seed) in new[] { ("Drums", 1), ("Bass", 2) })
        {
            using WavWriter writer = new(In($"stems/Song/{name}.wav"), new WavFormat(SampleRate, 24));
            writer.Write(Noise.White(4 * SampleRate, seed, 0.1f), Noise.White(4 * SampleRate, seed + 10, 0.1f));
            writer.Complete();
        }

        CommandLine.Run("import", In("stems"), "--into", In("album"));
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void BothSidesAreMeasuredAndWrittenEquallyLoud()
    {
        CommandLine.Run("set", In("album"), "--add", "1/Bass=gain", "1/Bass/gain.gainDb=6 dB");
        CommandLine.Result result = CommandLine.Run("compare", In("album"), "--song", "1", "--of", "Bass/gain", "--alone", "--out", In("listen"), "--json");
        Assert.Equal((0, string.Empty), (result.ExitCode, result.Errors));
        JsonNode report = JsonNode.Parse(result.Output)!;
        Assert.Equal(6, (double)report["outAgainstInLu"]!, 0.001);
        Assert.Equal(-6, (double)report["out"]!["fairGainDb"]!, 0.001);
        Assert.Equal(0, (double)report["in"]!["fairGainDb"]!, 0.001);
        Assert.All(report["bands"]!.AsArray(), band => Assert.Equal(0, (double)band!["fairChangeDb"]!, 0.01));

        // 6 dB are a factor of 1.995: the difference lies 20 log 0.995 against in, and nothing is left once equally loud.
        Assert.Equal((double)report["differenceDbfs"]!, 20 * Math.Log10(0.1 / Math.Sqrt(3)) - 0.04, 0.05);
        Assert.True((double)report["fairDifferenceDbfs"]! < -110);
        CommandLine.Result measure = CommandLine.Run("measure", In("listen/in.wav"), In("listen/out.wav"), "--json");
        JsonArray files = JsonNode.Parse(measure.Output)!.AsArray();
        Assert.Equal((double)files[0]!["integratedLufs"]!, (double)files[1]!["integratedLufs"]!, 0.002);
    }

    [Fact]
    public void ADeletedVersionIsListedAndBroughtBack()
    {
        CommandLine.Run("versions", In("album"), "--save", "monday");
        CommandLine.Result deleted = CommandLine.Run("versions", In("album"), "--delete", "monday");
        Assert.Contains("--bring-back \"monday\"", deleted.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("monday", CommandLine.Run("versions", In("album")).Output, StringComparison.Ordinal);
        Assert.Contains("monday", CommandLine.Run("versions", In("album"), "--deleted").Output, StringComparison.Ordinal);
        Assert.Equal(0, CommandLine.Run("versions", In("album"), "--bring-back", "monday").ExitCode);
        Assert.Contains("monday", CommandLine.Run("versions", In("album")).Output, StringComparison.Ordinal);
        CommandLine.Result again = CommandLine.Run("versions", In("album"), "--bring-back", "monday");
        Assert.Equal(2, again.ExitCode);
        Assert.Single(again.Errors.TrimEnd().Split('\n'));
    }

    [Fact]
    public void VersionsAndFilesAreCompared()
    {
        CommandLine.Run("versions", In("album"), "--save", "monday");
        CommandLine.Run("set", In("album"), "1/Bass.gainDb=-3 dB");
        CommandLine.Result versions = CommandLine.Run("compare", In("album"), "--against", "monday");
        Assert.Equal((0, string.Empty), (versions.ExitCode, versions.Errors));
        Assert.Contains("version monday", versions.Output, StringComparison.Ordinal);
        CommandLine.Result file = CommandLine.Run("compare", In("album"), "--file", In("stems/Song/Drums.wav"));
        Assert.Equal((0, string.Empty), (file.ExitCode, file.Errors));
    }

    [Theory]
    [InlineData("the chain of Bass is empty", "--of", "Bass/chain")]
    [InlineData("has no processor 'room'", "--of", "Drums/room")]
    [InlineData("there is no stem 'Choir'", "--of", "Choir")]
    [InlineData("has no rough mix", "--of", "rough")]
    [InlineData("holds nothing of", "--of", "bus", "--from", "100")]
    [InlineData("give one of them", "--of", "bus", "--file", "a.wav")]
    public void NothingToCompareIsOneLineAndExitCodeTwo(string words, params string[] arguments)
    {
        CommandLine.Run("set", In("album"), "--add", "1/bus=limiter", "--add", "1/Drums=gain");
        CommandLine.Result result = CommandLine.Run(["compare", In("album"), .. arguments]);
        Assert.Equal(2, result.ExitCode);
        Assert.Contains(words, result.Errors, StringComparison.Ordinal);
        Assert.Single(result.Errors.TrimEnd().Split('\n'));
    }

    [Fact]
    public void ParallelIsCheckedAlignedAndTurnedOver()
    {
        CommandLine.Run("set", In("album"), "--add-parallel", "1/Drums=Crush", "1/Drums/parallel:Crush.blendDb=0", "1/Drums/parallel:Crush.alignSamples=9.5");
        CommandLine.Result check = CommandLine.Run("parallel", In("album"), "--stem", "Drums", "--json");
        Assert.Equal((1, string.Empty), (check.ExitCode, check.Errors));
        Assert.Equal(9.5, (double)JsonNode.Parse(check.Output)!["lateSamples"]!, 0.01);
        CommandLine.Result align = CommandLine.Run("parallel", In("album"), "--stem", "Drums", "--align", "--json");
        Assert.Equal((0, string.Empty), (align.ExitCode, align.Errors));
        Assert.Equal(0, (double)JsonNode.Parse(align.Output)!["alignSamples"]!, 0.01);
        CommandLine.Result turned = CommandLine.Run("parallel", In("album"), "--stem", "Drums", "--turn-over");
        Assert.Equal(1, turned.ExitCode);
        Assert.Contains("polarity: turned over", turned.Output, StringComparison.Ordinal);
        Assert.Equal(0, CommandLine.Run("parallel", In("album"), "--stem", "Drums", "--turn-over").ExitCode);
        Assert.Contains("has no parallel", CommandLine.Run("parallel", In("album"), "--stem", "Bass").Errors, StringComparison.Ordinal);
    }

    private string In(string name) => Path.Combine(folder, name);
}
