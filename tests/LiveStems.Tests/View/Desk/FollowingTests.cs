using LiveStems.Albums.Model;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

/// <summary>What is shown, looped and soloed goes with the song through moves, undo and redo.</summary>
public sealed class FollowingTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Fact]
    public void TheShownSongItsLoopAndItsSoloStayThroughAMoveAndItsUndo()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.2);
        desk.Transport.SetLoop(0.5, 1.5);
        desk.ToggleSolo(1);
        string shown = desk.Song.Title;
        Check(0);
        Assert.Null(desk.Songs.Move(0, 1));
        Check(1);
        Assert.NotNull(desk.Undo());
        Check(0);
        Assert.NotNull(desk.Redo());
        Check(1);

        // The other song, which stands where it stood, has no solo.
        desk.ShowSong(0);
        Assert.False(desk.Solo.Any(desk.Song));
        Assert.Null(desk.Transport.Loop);

        void Check(int index)
        {
            Assert.Equal((index, shown), (desk.SongIndex, desk.Song.Title));
            Assert.Equal((0.5, 1.5), desk.Transport.Loop);
            Assert.True(desk.Stems[1].IsSoloed);
            Assert.False(desk.Stems[0].IsHeard);
        }
    }

    [Fact]
    public void SoloGoesWithSongsAndStemsThatAreRenamed()
    {
        using AlbumDesk desk = album.Open();
        desk.ToggleSolo(0);
        Assert.Null(desk.Stems[0].Rename("Low end"));
        Assert.True(desk.Stems[0].IsSoloed);
        Assert.Null(desk.Set("1.title", "Lowest Tide"));
        Assert.Equal("Lowest Tide", desk.Song.Title);
        Assert.True(desk.Stems[0].IsSoloed);
        Assert.NotNull(desk.Undo());
        Assert.NotNull(desk.Undo());
        Assert.Equal(("Low Tide", "Bass"), (desk.Song.Title, desk.Stems[0].Name));
        Assert.True(desk.Stems[0].IsSoloed);
    }

    [Fact]
    public void ASoloedStemThatIsTakenAwayLeavesTheOthersToBeHeard()
    {
        using AlbumDesk desk = album.Open();
        desk.ToggleSolo(1);
        Assert.Null(desk.EditSong(song => song with { Stems = song.Stems.RemoveAt(1) }));
        Assert.True(desk.Stems[0].IsHeard);
        Assert.NotNull(desk.Undo());
        Assert.True(desk.Stems[1].IsSoloed);
        Assert.False(desk.Stems[0].IsHeard);
    }

    [Fact]
    public void WhereTheShownSongIsTakenBackAnotherIsShownWithoutItsLoop()
    {
        using AlbumDesk desk = album.Open();
        Song third = desk.Song with { Title = "Third Tide" };
        Assert.Null(desk.Edit(all => all with { Songs = all.Songs.Insert(0, third) }));
        Assert.Equal((1, "Low Tide"), (desk.SongIndex, desk.Song.Title));
        desk.ShowSong(0);
        album.Run(desk, 0.2);
        desk.Transport.SetLoop(0.5, 1.5);
        desk.Select(desk.Stems[0].Place);
        Assert.NotNull(desk.Undo());
        Assert.Equal((0, "Low Tide"), (desk.SongIndex, desk.Song.Title));
        Assert.Null(desk.Transport.Loop);
        Assert.Null(desk.SelectedStem);
    }

    [Fact]
    public void TheLastSongOfAnOpenAlbumStays()
    {
        using AlbumDesk desk = album.Open();
        Assert.NotNull(desk.Edit(all => all with { Songs = [] }));
        Assert.Equal(2, desk.Album.Songs.Length);
    }
}
