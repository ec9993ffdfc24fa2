using LiveStems.Albums.Model;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class TitlesTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Fact]
    public void TitlesAndArtistAreChangedAndTakenBackInWords()
    {
        using AlbumDesk desk = album.Open();
        desk.ShowSong(1);
        Assert.Null(desk.Titles.SetTitle("Spring Tide"));
        Assert.Equal(("Spring Tide", 1), (desk.Song.Title, desk.SongIndex));
        Assert.Contains("title", desk.UndoWords, StringComparison.Ordinal);
        Assert.Null(desk.Titles.SetAlbumTitle("Slack Water, Again"));
        Assert.Null(desk.Titles.SetArtist("The Kelp Ledger and Friends"));
        Assert.Contains("artist", desk.UndoWords, StringComparison.Ordinal);
        desk.Undo();
        desk.Undo();
        desk.Undo();
        Assert.Equal(("Slack Water Letters", "The Kelp Ledger", "High Tide"), (desk.Album.Title, desk.Album.Artist, desk.Song.Title));
        Assert.Null(desk.UndoWords);
    }

    [Fact]
    public void ATitleThatIsTakenOrEmptyIsRefused()
    {
        using AlbumDesk desk = album.Open();
        Assert.Contains("twice", desk.Titles.SetTitle("high tide"), StringComparison.Ordinal);
        Assert.NotNull(desk.Titles.SetTitle(" "));
        Assert.Equal("Low Tide", desk.Song.Title);
    }

    [Fact]
    public void SolosStayWithTheirSongWhateverItIsCalledAndWhereverItStands()
    {
        using AlbumDesk desk = album.Open();
        desk.ToggleSolo(1);
        desk.Titles.SetTitle("Neap Tide");
        Assert.True(desk.Stems[1].IsSoloed);
        desk.Songs.Move(0, 1);
        Assert.True(desk.Stems[1].IsSoloed);
        desk.ShowSong(0);
        Assert.False(desk.Stems[1].IsSoloed);
    }

    [Fact]
    public void TheRecordingCodeIsReadAsPeopleWriteItAndRefusedWhereItIsNone()
    {
        using AlbumDesk desk = album.Open();
        Assert.Null(desk.Titles.SetRecordingCode("aa-6q7-26-00001"));
        Assert.Equal("AA6Q72600001", desk.Song.Isrc);
        Assert.Equal("AA-6Q7-26-00001", desk.Titles.RecordingCode);
        Assert.Contains("is no recording code", desk.Titles.SetRecordingCode("12"), StringComparison.Ordinal);
        desk.ShowSong(1);
        Assert.Contains("twice", desk.Titles.SetRecordingCode("AA6Q72600001"), StringComparison.Ordinal);
        desk.ShowSong(0);
        Assert.Null(desk.Titles.SetRecordingCode("none"));
        Assert.Equal(string.Empty, desk.Titles.RecordingCode);
    }

    [Fact]
    public void TheRateIsTypedWithItsUnit()
    {
        using AlbumDesk desk = album.Open();
        Assert.Equal(string.Empty, desk.Titles.SampleRate);
        Assert.Null(desk.Titles.SetSampleRate("44.1 kHz"));
        Assert.Equal(44_100, desk.Song.SampleRate);
        Assert.Equal("44.1 kHz", desk.Titles.SampleRate);
        Assert.NotNull(desk.Titles.SetSampleRate("44.1 LUFS"));
        Assert.Null(desk.Titles.SetSampleRate("none"));
        Assert.Null(desk.Song.SampleRate);
    }

    [Fact]
    public void TheRoughMixIsASoundFileInsideTheAlbum()
    {
        using AlbumDesk desk = album.Open();
        string stem = desk.Song.Stems[0].File;
        Assert.Null(desk.Titles.SetRoughMix(Path.Combine(desk.Folder, stem)));
        Assert.Equal(stem, desk.Song.RoughMix);
        Assert.Null(desk.Compare.Choose(CompareKind.RoughMix));
        desk.Compare.Stop();
        Assert.Null(desk.Titles.SetRoughMix("none"));
        Assert.Equal(string.Empty, desk.Titles.RoughMix);
        Assert.NotNull(desk.Titles.SetRoughMix("nowhere.wav"));
        Assert.NotNull(desk.Titles.SetRoughMix("album.json"));
        string outside = Path.Combine(Path.GetTempPath(), $"{Guid.NewGuid():N}.wav");
        File.Copy(Path.Combine(desk.Folder, stem), outside);
        try
        {
            Assert.Contains("outside of the album's folder", desk.Titles.SetRoughMix(outside), StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(outside);
        }

        Assert.Null(desk.Song.RoughMix);
    }

    [Fact]
    public void EverythingStandsOnDisk()
    {
        using (AlbumDesk desk = album.Open())
        {
            desk.Titles.SetTitle("Spring Tide");
            desk.Titles.SetRecordingCode("AA6Q72600001");
        }

        Song song = album.OnDisk().Songs[0];
        Assert.Equal(("Spring Tide", "AA6Q72600001"), (song.Title, song.Isrc));
    }
}
