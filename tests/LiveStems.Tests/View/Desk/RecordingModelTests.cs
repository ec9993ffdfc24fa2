using LiveStems.Files.Reading;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

/// <summary>What is heard goes into a file, and the file is whole whatever happens.</summary>
public sealed class RecordingModelTests : IDisposable
{
    private readonly DeskAlbum album = new();

    private string Folder => Path.Combine(album.Folder, RecordingModel.FolderName);

    public void Dispose() => album.Dispose();

    [Fact]
    public void WhatIsHeardBetweenStartAndStopIsInTheFileToTheBit()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.2);
        desk.Transport.Play();
        album.Run(desk, 0.2);
        int before = album.Device.Left.Count;
        Assert.Null(desk.Commands.Find("record")!.Run());
        Assert.True(desk.Recording.IsRunning);
        album.Run(desk, 0.5);
        int after = album.Device.Left.Count;
        Assert.Equal((after - before) / (double)DeskAlbum.SampleRate, desk.Recording.Seconds, 1e-9);
        Assert.Null(desk.Commands.Find("record")!.Run());
        Assert.False(desk.Recording.IsRunning);
        album.Run(desk, 0.1);
        WaitFor(desk, "recorded 0.5 s to ");
        string file = Assert.Single(Directory.GetFiles(Folder));
        Assert.Equal(desk.Recording.FilePath, file);
        Assert.StartsWith("Low Tide ", Path.GetFileName(file), StringComparison.Ordinal);
        Assert.Equal(album.Device.Left[before..after], Read(file));
    }

    [Fact]
    public void WhatCannotBeginHasNoFile()
    {
        using AlbumDesk desk = album.Open();
        File.WriteAllText(Folder, "a file where the folder should be");
        Assert.StartsWith("nothing is recorded: ", desk.Recording.Start(), StringComparison.Ordinal);
        Assert.False(desk.Recording.IsRunning);
        Assert.Null(desk.Recording.FilePath);
    }

    [Fact]
    public void RecordingsOfOneSecondHaveNamesOfTheirOwn()
    {
        using AlbumDesk desk = album.Open();
        for (int i = 0; i < 3; i++)
        {
            Assert.Null(desk.Recording.Start());
            album.Run(desk, 0.05);
            desk.Recording.Stop();
        }

        Assert.True(SpinWait.SpinUntil(() => Directory.GetFiles(Folder, "*.wav").Length == 3, TimeSpan.FromSeconds(60)));
    }

    [Fact]
    public void ClosingTheDeskCompletesTheFile()
    {
        AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        Assert.Null(desk.Recording.Start());
        int before = album.Device.Left.Count;
        album.Run(desk, 0.3);
        int after = album.Device.Left.Count;
        desk.Dispose();
        Assert.Null(desk.NotSaved);
        Assert.Equal(after - before, Read(Assert.Single(Directory.GetFiles(Folder))).Length);
    }

    [Fact]
    public void WhereNothingCanBeWrittenOneLineSaysSoAndTheMusicGoesOn()
    {
        File.WriteAllText(Folder, "in the way");
        using AlbumDesk desk = album.Open();
        string? fault = desk.Recording.Start();
        Assert.NotNull(fault);
        Assert.StartsWith("nothing is recorded: ", fault, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', fault);
        Assert.False(desk.Recording.IsRunning);
        Assert.Equal((MessageKind.Refusal, fault), (desk.Messages[^1].Kind, desk.Messages[^1].Text));
        desk.Transport.Play();
        album.Run(desk, 0.3);
        Assert.True(desk.Transport.IsPlaying);
    }

    private static float[] Read(string path)
    {
        using IAudioReader reader = AudioFile.Open(path);
        float[] left = new float[reader.Info.Frames];
        float[] right = new float[left.Length];
        Assert.Equal(left.Length, reader.Read(left, right));
        return left;
    }

    private static void WaitFor(AlbumDesk desk, string words) => Assert.True(
        SpinWait.SpinUntil(
            () =>
            {
                desk.Update();
                return desk.Messages.Any(message => message.Text.StartsWith(words, StringComparison.Ordinal));
            },
            TimeSpan.FromSeconds(60)),
        string.Join('|', desk.Messages.Select(message => message.Text)));
}
