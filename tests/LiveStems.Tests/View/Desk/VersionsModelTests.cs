using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class VersionsModelTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Fact]
    public void AVersionIsTakenToldAndRestored()
    {
        using AlbumDesk desk = album.Open();
        Assert.Null(desk.Versions.Save("first"));
        Assert.NotNull(desk.Versions.Save("first"));
        Assert.Null(desk.Stems[0].Gain.SetText("-3 dB"));
        Assert.Equal("Bass, gain: 0 → −3 dB", Assert.Single(desk.Versions.DifferenceTo("first")!).Said);
        Assert.Null(desk.Versions.Restore("first"));
        Assert.Equal(0, desk.Stems[0].Gain.Value);
        Assert.Equal("restore version 'first'", desk.Undo());
        Assert.Equal(-3, desk.Stems[0].Gain.Value);
        Assert.Null(desk.Versions.Delete("first"));
        Assert.Empty(desk.Versions.All);
        Assert.NotNull(desk.Versions.Restore("first"));
    }

    [Fact]
    public void WhatIsOtherIsToldWithoutReadingTheVersionsAgain()
    {
        using AlbumDesk desk = album.Open();
        Assert.Null(desk.Versions.Save("first"));
        Assert.Null(desk.Stems[0].Gain.SetText("-3 dB"));
        Assert.Null(desk.Versions.Save("second"));
        Directory.Delete(Path.Combine(album.Folder, "versions"), recursive: true);
        Assert.Equal("Bass, gain: 0 → −3 dB", Assert.Single(desk.Versions.DifferenceTo("first", "second")!).Said);
        Assert.Equal("Bass, gain: 0 → −3 dB", Assert.Single(desk.Versions.DifferenceTo("first")!).Said);
        Assert.Null(desk.Versions.DifferenceTo("third"));
        Assert.Equal(MessageKind.Refusal, desk.Messages[^1].Kind);
    }

    [Fact]
    public void FoldersComeInWhileTheAlbumIsOpen()
    {
        string folder = Directory.CreateDirectory(Path.Combine(album.Folder, "Third Tide")).FullName;
        File.Copy(Path.Combine(album.Folder, "Bass.wav"), Path.Combine(folder, "Bass.wav"));
        using AlbumDesk desk = album.Open();
        DeskJob job = desk.Work.Import([folder]);
        Assert.Null(desk.Stems[0].Gain.SetText("-3 dB"));
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                desk.Update();
                return !job.IsOpen;
            },
            TimeSpan.FromSeconds(30)));
        Assert.Equal(JobState.Done, job.State);
        Assert.Equal(["Low Tide", "High Tide", "Third Tide"], desk.Album.Songs.Select(song => song.Title));
        Assert.Equal(-3, desk.Stems[0].Gain.Value);
        Assert.Equal("import Third Tide", desk.UndoWords);
    }

    [Fact]
    public void ADeletingIsTakenBackInItsTurnAmongTheSteps()
    {
        using AlbumDesk desk = album.Open();
        Assert.Null(desk.Versions.Save("first"));
        Assert.Null(desk.Stems[0].Gain.SetText("-3 dB"));
        Assert.Null(desk.Versions.Delete("first"));
        Assert.Null(desk.Stems[0].Gain.SetText("-5 dB"));
        Assert.Empty(desk.Versions.All);
        Assert.Equal("first", Assert.Single(desk.Versions.Deleted).Name);

        Assert.Equal("Bass, gain: −3 → −5 dB", desk.Undo());
        Assert.Equal("delete version 'first'", desk.UndoWords);
        Assert.Equal("delete version 'first'", desk.Undo());
        Assert.Equal("first", Assert.Single(desk.Versions.All).Name);
        Assert.Equal("Bass, gain: 0 → −3 dB", desk.Undo());
        Assert.Null(desk.Undo());

        Assert.Equal("Bass, gain: 0 → −3 dB", desk.Redo());
        Assert.Equal("delete version 'first'", desk.Redo());
        Assert.Empty(desk.Versions.All);
        Assert.Equal("Bass, gain: −3 → −5 dB", desk.Redo());
        Assert.Null(desk.Redo());
    }

    [Fact]
    public void ADeletingThatCannotBeTakenBackStandsInNobodysWay()
    {
        using AlbumDesk desk = album.Open();
        Assert.Null(desk.Versions.Save("first"));
        Assert.Null(desk.Stems[0].Gain.SetText("-3 dB"));
        Assert.Null(desk.Versions.Delete("first"));
        Directory.Delete(Path.Combine(album.Folder, "versions", "deleted"), recursive: true);
        Assert.Null(desk.Undo());
        Assert.Equal(MessageKind.Trouble, desk.Messages[^1].Kind);
        Assert.Equal("Bass, gain: 0 → −3 dB", desk.Undo());
    }

    [Fact]
    public void WhatWasDoneToASongWhileStemsCameInStaysAndUndoTakesOnlyTheStemsOut()
    {
        string folder = Directory.CreateDirectory(Path.Combine(album.Folder, "..", $"{Path.GetFileName(album.Folder)} in", "Low Tide")).FullName;
        try
        {
            File.Copy(Path.Combine(album.Folder, "Bass.wav"), Path.Combine(folder, "Claps.wav"));
            using AlbumDesk desk = album.Open();
            DeskJob job = desk.Work.Import([folder]);
            Assert.Null(desk.Stems[0].Gain.SetText("-3 dB"));
            Assert.True(SpinWait.SpinUntil(
                () =>
                {
                    desk.Update();
                    return !job.IsOpen;
                },
                TimeSpan.FromSeconds(30)));
            Assert.Equal((JobState.Done, string.Empty), (job.State, job.Fault));
            Assert.Equal(["Bass", "Lead voice", "Claps"], desk.Song.Stems.Select(stem => stem.Name));
            Assert.Equal(-3, desk.Stems[0].Gain.Value);
            Assert.Equal("import Low Tide", desk.Undo());
            Assert.Equal(["Bass", "Lead voice"], desk.Song.Stems.Select(stem => stem.Name));
            Assert.Equal(-3, desk.Stems[0].Gain.Value);
        }
        finally
        {
            Directory.Delete(Path.GetDirectoryName(folder)!, recursive: true);
        }
    }
}
