using LiveStems.App;
using LiveStems.Engine.Monitor;
using LiveStems.Files.Reading;
using LiveStems.Tests.App.Verbs;
using Xunit;

namespace LiveStems.Tests.App.Playing;

public sealed class PlayVerbTests : IDisposable
{
    private readonly PlayedAlbum album = new();

    public void Dispose() => album.Dispose();

    [Fact]
    public void RecordingIsKeptWhenThePlayerIsInterrupted()
    {
        string record = Path.Combine(album.Folder, "heard.wav");
        using CancellationTokenSource interruption = new(TimeSpan.FromSeconds(1.5));
        StringWriter errors = new();
        Assert.Equal(0, Program.Run(["play", album.Folder, "--device", "silent", "--seconds", "60", "--record", record], TextWriter.Null, errors, interruption.Token));
        Assert.Contains($"s to {record}", errors.ToString(), StringComparison.Ordinal);
        using IAudioReader reader = AudioFile.Open(record);
        Assert.InRange(reader.Info.Frames, 1, 60 * PlayedAlbum.SampleRate);
    }

    [Fact]
    public void RecordingThatNeverBeganLeavesTheFileThatStoodThere()
    {
        string record = Path.Combine(album.Folder, "heard.wav");
        File.WriteAllText(record, "of yesterday");
        album.Delete("Lead voice");
        CommandLine.Result result = CommandLine.Run("play", album.Folder, "--device", "silent", "--seconds", "1", "--record", record);
        Assert.Equal(2, result.ExitCode);
        Assert.Contains("Lead voice.wav", result.Errors, StringComparison.Ordinal);
        Assert.Equal("of yesterday", File.ReadAllText(record));
    }

    [Theory]
    [InlineData("--slope", "36", "24 or 48")]
    [InlineData("--safety", "0", "−30 to −1")]
    [InlineData("--safety", "-31", "−30 to −1")]
    [InlineData("--level", "1", "−60 to 0")]
    [InlineData("--band", "3000", "CENTRE,OCTAVES")]
    [InlineData("--band", "30000,1", "20 to 20000")]
    public void MonitorOptionsOutOfRangeAreRefused(string option, string value, string says)
    {
        CommandLine.Result result = CommandLine.Run("play", album.Folder, "--device", "silent", option, value);
        Assert.Equal(2, result.ExitCode);
        Assert.Contains(says, result.Errors, StringComparison.Ordinal);
        Assert.Single(result.Errors.TrimEnd().Split('\n'));
    }

    [Fact]
    public void SafetyCeilingHoldsWhatIsRecorded()
    {
        // Noise whose peaks would reach −20 dBFS.
        string record = Path.Combine(album.Folder, "heard.wav");
        Assert.Equal(0, CommandLine.Run("play", album.Folder, "--device", "silent", "--seconds", "1", "--no-dim", "--safety", "-30", "--slope", "24", "--band", "1000,4", "--record", record).ExitCode);
        using IAudioReader reader = AudioFile.Open(record);
        float[] left = new float[reader.Info.Frames];
        float[] right = new float[reader.Info.Frames];
        reader.Read(left, right);
        Assert.InRange(left.Max(MathF.Abs), 0.5 * Math.Pow(10, MonitorSettings.LowestSafetyCeilingDbfs / 20), 1.0002 * Math.Pow(10, MonitorSettings.LowestSafetyCeilingDbfs / 20));
    }
}
