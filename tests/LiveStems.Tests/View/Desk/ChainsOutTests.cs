using LiveStems.Albums.Model;
using LiveStems.Engine.Comparing;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

/// <summary>All chains out at once: a matter of listening.</summary>
public sealed class ChainsOutTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Fact]
    public void EveryChainIsOutAtOnceAndComesBackAsItWas()
    {
        using AlbumDesk desk = album.Open();
        Assert.Null(desk.Stems[1].ToggleBypass());
        Assert.Null(Press(desk));
        Assert.True(desk.AreChainsOut);
        Assert.All(desk.Player.Song!.Stems, stem => Assert.True(stem.Chain.Bypassed));
        Assert.True(desk.Player.Song.Bus.Bypassed);

        // What is changed meanwhile is changed in the album, and heard without chains still.
        Assert.Null(desk.Stems[0].Gain.SetText("-3 dB"));
        Assert.Equal((-3, true), (desk.Player.Song.Stems[0].Placement.GainDb, desk.Player.Song.Stems[0].Chain.Bypassed));
        desk.ShowSong(1);
        Assert.Equal(("High Tide", true), (desk.Player.Song.Title, desk.Player.Song.Bus.Bypassed));
        desk.ShowSong(0);
        Assert.Null(Press(desk));
        Assert.Equal([false, true], desk.Player.Song.Stems.Select(stem => stem.Chain.Bypassed));
        Assert.False(desk.Player.Song.Bus.Bypassed);
    }

    [Fact]
    public void TheAlbumAndItsFileAreLeftAlone()
    {
        using (AlbumDesk desk = album.Open())
        {
            Album before = desk.Album;
            Assert.Null(Press(desk));
            Assert.Same(before, desk.Album);
            Assert.Null(desk.UndoWords);
            Assert.Null(desk.Stems[0].Gain.SetText("-3 dB"));
        }

        Song song = album.OnDisk().Songs[0];
        Assert.Equal(-3, song.Stems[0].Placement.GainDb);
        Assert.DoesNotContain(song.Stems, stem => stem.Chain.Bypassed);
        Assert.False(song.Bus.Bypassed);
    }

    [Fact]
    public void TheSongThatFollowsIsHeardWithoutItsChainsToo()
    {
        using AlbumDesk desk = album.Open();
        desk.ToggleWholeAlbum();
        Assert.Null(Press(desk));
        desk.Transport.Play();
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                album.Run(desk, 0.1);
                Thread.Sleep(2);
                return desk.SongIndex == 1;
            },
            TimeSpan.FromSeconds(30)));
        Assert.All(desk.Player.Song!.Stems, stem => Assert.True(stem.Chain.Bypassed));
    }

    // The compressor takes a sine at −14 dBFS down by about 19 dB.
    [Fact]
    public void WhatIsHeardIsTheStemAsDelivered()
    {
        using AlbumDesk desk = album.Open();
        desk.Stems[0].ToggleSolo(alone: true);
        Assert.Null(Press(desk));
        album.Run(desk, 0.1);
        desk.Transport.Play();
        album.Run(desk, 1);
        Assert.Equal(-14, desk.Stems[0].Meter.OutputPeakDbfs, 0.5);
    }

    [Fact]
    public void ABlindTestGoesOnWithWhatItBeganWith()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        Assert.Null(desk.Compare.Choose(CompareKind.AllStems));
        album.PlayUntilFair(desk);
        Assert.Null(desk.Compare.Blind.Start(2));
        Assert.NotNull(Press(desk));
        Assert.Equal((false, true), (desk.AreChainsOut, desk.Compare.Blind.IsRunning));
        desk.Compare.Blind.Answer(BlindAnswer.Same);
        desk.Compare.Blind.Stop();
        Assert.Null(Press(desk));

        // Nor does it begin with a song that is not as it is.
        Assert.NotNull(desk.Compare.Blind.Start(2));
        Assert.False(desk.Compare.Blind.IsRunning);
    }

    [Theory]
    [InlineData("all chains")]
    [InlineData("bypass everything")]
    public void ItIsFoundBySearch(string typed)
    {
        using AlbumDesk desk = album.Open();
        Assert.Equal("chains", desk.Commands.Search(typed)[0].Id);
    }

    private static string? Press(AlbumDesk desk)
    {
        Assert.True(desk.Commands.Press(KeyChord.Parse("Ctrl+B"), out string? fault));
        return fault;
    }
}
