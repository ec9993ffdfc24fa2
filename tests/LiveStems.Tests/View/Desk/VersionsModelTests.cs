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
        Assert.Equal("Bass, gain: 0 → −3 dB", Assert.Single(desk.Versions.DifferenceTo("first")).Said);
        Assert.Null(desk.Versions.Restore("first"));
        Assert.Equal(0, desk.Stems[0].Gain.Value);
        Assert.Equal("restore version 'first'", desk.Undo());
        Assert.Equal(-3, desk.Stems[0].Gain.Value);
        Assert.Null(desk.Versions.Delete("first"));
        Assert.Empty(desk.Versions.All);
        Assert.NotNull(desk.Versions.Restore("first"));
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
}
