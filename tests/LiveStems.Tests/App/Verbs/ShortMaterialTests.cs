using System.Text.Json.Nodes;
using LiveStems.Files.Writing;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.App.Verbs;

/// <summary>Two seconds of sound: what cannot be judged is said, the rest is judged.</summary>
public sealed class ShortMaterialTests : IDisposable
{
    private const int SampleRate = 48_000;

    private readonly string folder = Directory.CreateTempSubdirectory("livestems short ").FullName;

    public ShortMaterialTests()
    {
        Directory.CreateDirectory(In("stems/Song"));
        using WavWriter writer = new(In("stems/Song/Bass.wav"), new WavFormat(SampleRate, 24));
        writer.Write(Noise.White(2 * SampleRate, 1, 0.1f), Noise.White(2 * SampleRate, 2, 0.1f));
        writer.Complete();
        CommandLine.Run("import", In("stems"), "--into", In("album"));
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void MeasureLeavesOutWhatNeedsThreeSeconds()
    {
        CommandLine.Result text = CommandLine.Run("measure", In("album"));
        Assert.Equal((0, string.Empty), (text.ExitCode, text.Errors));
        Assert.Contains("Song: too short for short-term loudness", text.Output, StringComparison.Ordinal);
        JsonNode song = JsonNode.Parse(CommandLine.Run("measure", In("album"), "--json").Output)!["songs"]![0]!;
        Assert.Null(song["loudnessRangeLu"]);
        Assert.NotNull(song["integratedLufs"]);
        Assert.StartsWith("too short", (string)song["notJudged"]!, StringComparison.Ordinal);
    }

    [Fact]
    public void FindSaysWhatItCannotTell()
    {
        CommandLine.Result found = CommandLine.Run("find", In("album"));
        Assert.Equal((0, string.Empty), (found.ExitCode, found.Errors));
        Assert.Contains("3 s are needed", found.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("masking")]
    [InlineData("spectrum")]
    public void WhatNeedsNoThreeSecondsIsJudged(string verb)
    {
        CommandLine.Result result = CommandLine.Run(verb, In("album"));
        Assert.Equal((0, string.Empty), (result.ExitCode, result.Errors));
        Assert.Contains("Bass", result.Output, StringComparison.Ordinal);
    }

    private string In(string path) => Path.Combine(folder, path);
}
