using LiveStems.Albums.Model;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

/// <summary>The album as it will stand, heard at the desk.</summary>
public sealed class WholeAlbumTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Fact]
    public void SongsFollowEachOtherAndTheOneThatIsHeardIsShown()
    {
        using AlbumDesk desk = album.Open();
        desk.Select(desk.Stems[0].Place);
        desk.ToggleWholeAlbum();
        Assert.True(desk.IsWholeAlbum);
        desk.Transport.Play();
        Assert.True(RunUntil(desk, () => desk.SongIndex == 1));
        Assert.Equal(("High Tide", "High Tide"), (desk.Song.Title, desk.Player.Look().Song));
        Assert.True(desk.Transport.IsPlaying);
        Assert.Null(desk.SelectedStem);

        // What is changed now is changed in the song that is heard.
        Assert.Null(desk.Stems[0].Gain.SetText("-6 dB"));
        Assert.Equal([0.0, -6.0], desk.Album.Songs.Select(song => song.Stems[0].Placement.GainDb));
        Assert.True(RunUntil(desk, () => !desk.Transport.IsPlaying));
        Assert.Equal(1, desk.SongIndex);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(2)]
    public void OneSongAloneEndsWhereItEnds(int toggles)
    {
        using AlbumDesk desk = album.Open();
        for (int i = 0; i < toggles; i++)
        {
            desk.ToggleWholeAlbum();
        }

        desk.Transport.Play();
        Assert.True(RunUntil(desk, () => desk.Transport.PositionSeconds > 1));
        Assert.True(RunUntil(desk, () => !desk.Transport.IsPlaying));
        Assert.Equal(0, desk.SongIndex);
    }

    [Fact]
    public void SongsStartWhereTheyAreCut()
    {
        using AlbumDesk desk = album.Open();
        Cut(desk, 0, 0.4);
        Cut(desk, 1, 0.7);
        album.Run(desk, 0.1);
        desk.ToggleWholeAlbum();
        Assert.True(RunUntil(desk, () => desk.Transport.PositionSeconds > 0.3));
        // What is heard is what was read less the latency of the plan, some milliseconds.
        Assert.InRange(desk.Transport.PositionSeconds, 0.3, 0.41);
        desk.ShowSong(1);
        Assert.True(RunUntil(desk, () => desk.Transport.PositionSeconds > 0.6));
        Assert.InRange(desk.Transport.PositionSeconds, 0.6, 0.71);
        desk.Transport.Seek(1);
        Assert.True(RunUntil(desk, () => desk.Transport.PositionSeconds > 0.9));
        Assert.True(desk.Commands.Find("start") is { } start && start.Run() is null);
        Assert.True(RunUntil(desk, () => desk.Transport.PositionSeconds < 0.75));
        Assert.InRange(desk.Transport.PositionSeconds, 0.6, 0.71);
    }

    [Fact]
    public void TheSongBehindTheOneThatPlaysFollowsWhereverItWasMoved()
    {
        using AlbumDesk desk = album.Open();
        desk.ShowSong(1);
        desk.ToggleWholeAlbum();
        album.Run(desk, 0.1);
        Assert.False(desk.Player.Look().HasFollowing);
        Assert.Null(desk.Songs.Move(1, 0));
        Assert.True(desk.Player.Look().HasFollowing);
        desk.Transport.Play();
        Assert.True(RunUntil(desk, () => desk.Song.Title == "Low Tide"));
    }

    private static void Cut(AlbumDesk desk, int song, double seconds) => Assert.Null(desk.Edit(all => all with
    {
        Songs = all.Songs.SetItem(song, all.Songs[song] with { Edges = SongEdges.Usual with { TrimStartSeconds = seconds } }),
    }));

    // Somewhat slower than a fast machine could, so that the readers can follow.
    private bool RunUntil(AlbumDesk desk, Func<bool> holds)
    {
        for (int i = 0; i < 2000 && !holds(); i++)
        {
            album.Run(desk, 0.02);
            Thread.Sleep(1);
        }

        return holds();
    }
}
