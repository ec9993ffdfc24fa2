using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class TransportTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Fact]
    public void ItPlaysStopsAndStopsAtTheEnd()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        Assert.Equal(2, desk.Transport.LengthSeconds, 0.01);
        desk.Transport.Toggle();
        album.Run(desk, 0.5);
        Assert.True(desk.Transport.IsPlaying);
        Assert.InRange(desk.Transport.PositionSeconds, 0.3, 0.6);
        album.Run(desk, 3);
        Assert.False(desk.Transport.IsPlaying);
        desk.Transport.Play();
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                album.Run(desk, 0.02);
                Thread.Sleep(2);
                return desk.Transport is { IsPlaying: true, PositionSeconds: < 1 };
            },
            TimeSpan.FromSeconds(30)));
    }

    [Fact]
    public void ALoopInEitherOrderIsPlayedAndLeft()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        desk.Transport.SetLoop(1.2, 0.8);
        Assert.Equal((0.8, 1.2), desk.Transport.Loop);
        desk.Transport.Play();
        for (int i = 0; i < 20; i++)
        {
            album.Run(desk, 0.1);
            Thread.Sleep(5);
            Assert.True(desk.Transport.PositionSeconds < 1.3);
        }

        desk.Transport.ClearLoop();
        Assert.Null(desk.Transport.Loop);
        album.Run(desk, 3);
        Assert.False(desk.Transport.IsPlaying);
    }

    [Fact]
    public void ALoopIsKeptAndInSightUnderAnotherTitle()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        desk.Transport.SetLoop(0.2, 0.6);
        desk.Transport.Play();
        Assert.Null(desk.Set("1.title", "Ebb"));
        Assert.Equal((0.2, 0.6), desk.Transport.Loop);
        for (int i = 0; i < 20; i++)
        {
            album.Run(desk, 0.1);
            Thread.Sleep(5);
            Assert.True(desk.Transport.PositionSeconds < 0.7);
        }

        Assert.Equal("Ebb", desk.Player.Song!.Title);
        Assert.NotNull(desk.Undo());
        Assert.Equal((0.2, 0.6), desk.Transport.Loop);
    }

    [Fact]
    public void MarkersAreNotesWithATime()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        Assert.Null(desk.Notes.AddToSong(1.5, "last verse"));
        Assert.Null(desk.Notes.AddToSong(0.5, "first verse"));
        Assert.Null(desk.Notes.AddToSong(null, "warm"));
        Assert.Equal(["first verse", "last verse"], desk.Transport.Markers.Select(marker => marker.Name));
        Assert.NotNull(desk.Notes.AddToSong(1, "  "));
        desk.Undo();
        Assert.Equal(2, desk.Song.Notes.Length);
    }

    [Fact]
    public void APlaceThatIsAskedForWhileItsSongIsBeingOpenedIsGoneToOnceItIsThere()
    {
        using TestSong files = new();
        float[] one = DeskAlbum.Tone(110, 0.1f, DeskAlbum.SampleRate);
        float[] four = DeskAlbum.Tone(110, 0.1f, 4 * DeskAlbum.SampleRate);
        files.AddStem("Bass", one, one);
        files.AddStem("Lead voice", four, four);
        Song whole = files.Song;
        Song[] songs = [whole with { Title = "Low Tide", Stems = [whole.Stems[0]] }, whole with { Title = "High Tide", Stems = [whole.Stems[1]] }];
        AlbumFile.Save(new Album("Slack Water Letters", "The Kelp Ledger", DeliveryTargets.Usual, [.. songs], []), files.Folder, BuiltInProcessors.Catalogue);
        using AlbumDesk desk = AlbumDesk.Open(files.Folder, BuiltInProcessors.Catalogue, AudioDevices.Silent, 256);

        // Before the sound has begun.
        desk.Transport.Seek(0.5);
        desk.BeginSound();
        AssertComesTo(desk, 1, 0.5);

        // From a shorter song into a longer one, which takes a while to be opened.
        desk.ShowSong(1);
        desk.Transport.Seek(3.25);
        AssertComesTo(desk, 4, 3.25);

        // Behind the end of a shorter one, it is its end.
        desk.ShowSong(0);
        desk.Transport.Seek(3.25);
        AssertComesTo(desk, 1, 1);

        // While the song that plays is compiled anew, and the other waits behind that.
        Assert.Null(desk.Chain.Add("equaliser"));
        desk.ShowSong(1);
        desk.Transport.Seek(2.5);
        AssertComesTo(desk, 4, 2.5);
    }

    [Fact]
    public void AMarkerIsSetWhereItIsHeardAndTakenBack()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        Assert.Null(desk.Transport.AddMarker("Verse"));
        Assert.Null(desk.Transport.AddMarker());
        Assert.Equal(["Verse", desk.Song.Markers[1].Name], desk.Song.Markers.Select(marker => marker.Name));
        Assert.NotNull(desk.Transport.AddMarker("Verse"));
        desk.Undo();
        Assert.Single(desk.Song.Markers);
    }

    [Fact]
    public void AMarkerStandsAtTheFrameThatIsHeard()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        desk.Transport.Play();
        album.Run(desk, 0.3137);
        double place = desk.Transport.PositionSeconds;
        Assert.Null(desk.Transport.AddMarker());
        Assert.Equal(place, Assert.Single(desk.Song.Markers).AtSeconds);
        Assert.Equal(Math.Round(place * DeskAlbum.SampleRate) / DeskAlbum.SampleRate, place);
    }

    [Fact]
    public void TheSafetyLimiterIsSetByCommandWithinItsRange()
    {
        using AlbumDesk desk = album.Open();
        Assert.Null(desk.Commands.Find("safety-down")!.Run());
        Assert.Equal(-7, desk.Monitor.Settings.SafetyCeilingDbfs);
        Assert.Contains(desk.Messages, message => message.Text == "the safety limiter holds −7 dBFS");
        for (int i = 0; i < 40; i++)
        {
            desk.Commands.Find("safety-up")!.Run();
        }

        Assert.Equal(-1, desk.Monitor.Settings.SafetyCeilingDbfs);
    }

    [Fact]
    public void NotesOfTheChosenStemStandOnTheTimeAxisToo()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        Assert.Null(desk.Notes.AddToSong(1.5, "last verse"));
        Assert.Null(desk.Notes.AddToStem(0, 1.0, "fret noise"));
        Assert.Null(desk.Notes.AddToStem(0, null, "borrowed"));
        Assert.Null(desk.Notes.AddToStem(1, 0.5, "breath"));
        desk.Select(TapPlace.Bus);
        Assert.Equal(["last verse"], desk.Transport.Markers.Select(marker => marker.Name));
        desk.Select(desk.Stems[0].Place);
        Assert.Equal([(1.0, "Bass: fret noise"), (1.5, "last verse")], desk.Transport.Markers);
        desk.Select(desk.Stems[1].Parallels[0].Place);
        Assert.Equal([(0.5, "Lead voice: breath"), (1.5, "last verse")], desk.Transport.Markers);
        desk.Transport.SeekMarker(1);
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                album.Run(desk, 0.02);
                return Math.Abs(desk.Transport.PositionSeconds - 0.5) < 0.01;
            },
            TimeSpan.FromSeconds(30)));
    }

    private static void AssertComesTo(AlbumDesk desk, double lengthSeconds, double placeSeconds)
    {
        _ = SpinWait.SpinUntil(
            () =>
            {
                desk.Update();
                return desk.Transport.LengthSeconds == lengthSeconds && Math.Abs(desk.Transport.PositionSeconds - placeSeconds) < 0.001;
            },
            TimeSpan.FromSeconds(30));
        Assert.Equal((lengthSeconds, placeSeconds), (desk.Transport.LengthSeconds, Math.Round(desk.Transport.PositionSeconds, 3)));
    }

    [Fact]
    public void AnotherSongIsShownAndPlayed()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        desk.ShowSong(1);
        album.Run(desk, 0.5);
        Assert.Equal("High Tide", desk.Song.Title);
        Assert.Equal("High Tide", desk.Player.Song!.Title);
        desk.ShowSong(17);
        Assert.Equal(1, desk.SongIndex);
    }
}
