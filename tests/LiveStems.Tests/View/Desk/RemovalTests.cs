using LiveStems.Albums.Model;
using LiveStems.Engine.Live;
using LiveStems.Tests.Engine;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class RemovalTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Fact]
    public void AStemGoesOutOfTheSongAndComesBackAndItsFileStays()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.2);
        string file = Path.Combine(desk.Folder, desk.Song.Stems[0].File);
        desk.Select(TapPlace.OfStem(0));
        Assert.True(desk.Commands.Press(KeyChord.Parse("Ctrl+Delete"), out string? fault));
        Assert.Null(fault);
        Assert.Equal("Lead voice", Assert.Single(desk.Stems).Name);
        Assert.Equal(TapPlace.Bus, desk.Selection);
        Assert.True(File.Exists(file));
        Assert.Contains("Bass", desk.UndoWords, StringComparison.Ordinal);
        album.Run(desk, 0.2);
        Assert.NotNull(desk.Stems[0].Remove());
        Assert.Single(desk.Stems);
        Assert.NotNull(desk.Undo());
        Assert.Equal(["Bass", "Lead voice"], desk.Stems.Select(stem => stem.Name));
        album.Run(desk, 0.2);
    }

    [Fact]
    public void TheChosenStemStaysChosenWhenOneBeforeItGoes()
    {
        using AlbumDesk desk = album.Open();
        desk.Select(desk.Stems[1].Parallels[0].Place);
        Assert.Null(desk.Stems[0].Remove());
        Assert.Equal(new TapPlace(0, 0, null), desk.Selection);
        Assert.True(desk.Commands.Press(KeyChord.Parse("Ctrl+Delete"), out _));
        Assert.Empty(desk.Stems[0].Parallels);
        Assert.Equal(TapPlace.OfStem(0), desk.Selection);
    }

    [Fact]
    public void AStemThatAnotherListensToStays()
    {
        using AlbumDesk desk = album.Open();
        desk.EditSong(song => song with { Bus = TestSong.Chain(TestSong.Slot("compressor") with { KeyStem = "Bass" }) });
        Assert.Contains("is the key of", desk.Stems[0].Remove(), StringComparison.Ordinal);
        Assert.Equal(2, desk.Stems.Count);
    }

    [Fact]
    public void ASongGoesOutOfTheAlbumAndItsNeighbourIsShown()
    {
        using AlbumDesk desk = album.Open();
        desk.ShowSong(1);
        desk.Transport.SetLoop(0.2, 0.8);
        desk.Select(TapPlace.OfStem(1));
        Assert.Null(desk.Songs.Remove(1));
        Assert.Equal("Low Tide", desk.Song.Title);
        Assert.Null(desk.Transport.Loop);
        Assert.Equal(TapPlace.Bus, desk.Selection);
        Assert.Contains("High Tide", desk.UndoWords, StringComparison.Ordinal);
        album.Run(desk, 0.1);
        Assert.NotNull(desk.Songs.Remove(0));
        Assert.NotNull(desk.Undo());
        Assert.Equal(["Low Tide", "High Tide"], desk.Album.Songs.Select(song => song.Title));
        album.Run(desk, 0.1);
    }

    [Fact]
    public void TheSongThatIsShownStaysSoWhenOneBeforeItGoesAndComesBack()
    {
        using AlbumDesk desk = album.Open();
        desk.ShowSong(1);
        desk.Transport.SetLoop(0.2, 0.8);
        Assert.Null(desk.Songs.Remove(0));
        Assert.Equal(("High Tide", 0), (desk.Song.Title, desk.SongIndex));
        Assert.NotNull(desk.Transport.Loop);
        desk.Undo();
        Assert.Equal(("High Tide", 1), (desk.Song.Title, desk.SongIndex));
    }

    [Fact]
    public void MarkersAreRenamedMovedAndTakenAway()
    {
        using AlbumDesk desk = album.Open();
        desk.Edit(before => before with { Songs = before.Songs.SetItem(0, before.Songs[0] with { Markers = [new Marker("Verse", 0.4), new Marker("Chorus", 1.123)] }) });
        Assert.Null(desk.Transport.ChangeMarker(1, "Last chorus", 1.123));
        Assert.Equal(new Marker("Last chorus", 1.123), desk.Song.Markers[1]);
        Assert.Null(desk.Transport.ChangeMarker(0, "Verse", 0.9));
        Assert.Contains("Verse", desk.UndoWords, StringComparison.Ordinal);
        Assert.NotNull(desk.Transport.ChangeMarker(0, "last chorus", 0.9));
        Assert.NotNull(desk.Transport.ChangeMarker(0, " ", 0.9));
        // Where it stands, at the start, the verse is the nearest.
        Assert.Null(desk.Transport.RemoveMarkerHere());
        Assert.Equal("Last chorus", Assert.Single(desk.Song.Markers).Name);
        Assert.Null(desk.Transport.RemoveMarker(0));
        Assert.Contains("no marker", desk.Transport.RemoveMarkerHere(), StringComparison.Ordinal);
        desk.Undo();
        desk.Undo();
        Assert.Equal(["Verse", "Last chorus"], desk.Song.Markers.Select(marker => marker.Name));
    }

    [Fact]
    public void TheEdgesOfTheBandAreSteepOrLessSo()
    {
        using AlbumDesk desk = album.Open();
        Assert.Equal(48, desk.Monitor.Settings.BandSlopeDbPerOctave);
        Assert.Equal("band-slope", desk.Commands.Search("band slope")[0].Id);
        Assert.True(desk.Commands.Press(KeyChord.Parse("Shift+F"), out _));
        Assert.Equal(24, desk.Monitor.Settings.BandSlopeDbPerOctave);
        desk.Monitor.ToggleBandSlope();
        Assert.Equal(48, desk.Monitor.Settings.BandSlopeDbPerOctave);
    }

    [Fact]
    public void DimAndSafetyCeilingAreSetWithinTheirRanges()
    {
        using AlbumDesk desk = album.Open();
        Assert.Null(desk.Monitor.Fields[0].SetText("-12 dB"));
        Assert.Null(desk.Monitor.Fields[1].SetText("-10"));
        Assert.Equal((-12, -10), (desk.Monitor.Settings.DimDb, desk.Monitor.Settings.SafetyCeilingDbfs));
        Assert.NotNull(desk.Monitor.Fields[1].SetText("0"));
        Assert.Null(desk.UndoWords);
    }
}
