using LiveStems.Albums.Model;
using LiveStems.Engine.Monitor;
using LiveStems.Tests.Engine;
using LiveStems.Tests.Engine.Hosting;
using Xunit;

namespace LiveStems.Tests.App.Playing;

public sealed class PlayKeysTests : IDisposable
{
    private readonly PlayedAlbum played = new();

    public void Dispose() => played.Dispose();

    [Fact]
    public void SongWithAMissingStemIsToldAndTheOneBeforePlaysOn()
    {
        played.Delete("Second bass");
        played.Press(ConsoleKey.DownArrow);
        played.Press(ConsoleKey.PageDown);
        played.Run(0.5);
        Assert.Contains("Second bass.wav", Assert.Single(played.News), StringComparison.Ordinal);
        Assert.Equal("Low Tide", played.Controls.Song.Title);
        Assert.Equal("Lead voice", played.Controls.Stem.Name);
        Assert.Equal("Low Tide", played.Player.Look().Song);
        Assert.True(played.Player.Look().IsPlaying);

        // The keys work on what is heard.
        played.Press('s');
        played.Run(0.1);
        Assert.True(played.Player.Song!.Stems[1].Placement.Soloed);

        // Two songs on there is one that can be played.
        played.Press(ConsoleKey.PageUp);
        played.Run(0.3);
        Assert.Equal("Foghorn", played.Player.Look().Song);
        Assert.Single(played.News);
    }

    [Fact]
    public void ProcessorOfALaterSongThatCannotBePreparedIsToldOnce()
    {
        const string Told = "Second bass: the processor 'hostile-late' cannot be prepared (declares a latency of 2147483647 frames; from 0 to 10 s can be compensated); the sound passes it by, its settings stay";
        using PlayedAlbum other = new(processors: OutsideFiles.Catalogue(OutsideFiles.Maker("Hostile", "hostile-late")), inSecondSong: "hostile-late");
        Assert.Empty(other.News);
        other.Press(ConsoleKey.PageDown);
        other.Run(0.5);
        Assert.Equal([Told], other.News);

        // The song changed, and come back to later, says nothing that was not said.
        other.Controls.ChangeStem(stem => stem with { Chain = stem.Chain with { Slots = stem.Chain.Slots.Add(TestSong.Slot("gain")) } });
        other.Run(0.3);
        other.Press(ConsoleKey.PageUp);
        other.Run(0.5);
        other.Press(ConsoleKey.PageDown);
        other.Run(0.5);
        Assert.Equal("High Tide", other.Player.Look().Song);
        Assert.Equal([Told], other.News);
    }

    [Fact]
    public void SongThatIsFoundMissingOnlyLaterIsToldToo()
    {
        // The second is still on its way when the third is asked for: it is opened by a later look.
        played.Delete("Third bass");
        played.Press(ConsoleKey.PageDown);
        played.Press(ConsoleKey.PageDown);
        Assert.Equal("Foghorn", played.Controls.Song.Title);
        played.Run(0.5);
        Assert.Contains("Third bass.wav", Assert.Single(played.News), StringComparison.Ordinal);
        Assert.Equal("High Tide", played.Controls.Song.Title);
        Assert.Equal("High Tide", played.Player.Look().Song);
    }

    [Fact]
    public void LoopStaysWhenAnotherSongCannotBePlayed()
    {
        played.Controls.SetLoopIn(0.5);
        played.Controls.SetLoopOut(1);
        played.Delete("Second bass");
        played.Press(ConsoleKey.PageDown);
        Assert.Equal((0.5, 1), played.Controls.Loop);
        played.Run(2);
        Assert.InRange(played.Player.Look().PositionSeconds, 0.4, 1);
    }

    [Fact]
    public void StemKeysChangeTheStemForThisListeningOnly()
    {
        played.Press(ConsoleKey.DownArrow);
        foreach (char key in "smbp]]}")
        {
            played.Press(key);
        }

        Stem stem = played.Player.Song!.Stems[1];
        Assert.Equal(new Placement(1, 0.1, Polarity.Inverted, 0, Muted: true, Soloed: true), stem.Placement);
        Assert.True(stem.Chain.Bypassed);
        Assert.Equal(played.Songs[0].Stems[1].Placement, played.OnDisk().Songs[0].Stems[1].Placement);
    }

    [Fact]
    public void ProcessorsAreBypassedByTheirPlaceInTheChain()
    {
        played.Press('2');
        Assert.True(played.Player.Song!.Stems[0].Chain.Slots[1].Bypassed);
        played.Press('2');
        Assert.False(played.Player.Song!.Stems[0].Chain.Slots[1].Bypassed);
        played.Press('7');
        Assert.Equal(["Bass: compressor out", "Bass: compressor in", "Bass has 2 processors in its chain"], played.Controls.TakeNews());
    }

    [Fact]
    public void AllChainsAreBypassedAtOnceAndComeBackAsTheyWere()
    {
        played.Press('b');
        played.Press('A');
        played.Run(0.1);
        Assert.All(played.Player.Song!.Stems, stem => Assert.True(stem.Chain.Bypassed));
        Assert.True(played.Player.Song!.Bus.Bypassed);
        played.Press('A');
        played.Run(0.1);
        Assert.Equal([true, false], played.Player.Song!.Stems.Select(stem => stem.Chain.Bypassed));
        Assert.False(played.Player.Song!.Bus.Bypassed);
        played.Press('U');
        Assert.True(played.Player.Song!.Bus.Bypassed);
    }

    [Fact]
    public void EverySettingOfTheMonitorIsReached()
    {
        MonitorSettings before = played.Controls.Monitor.Settings;
        foreach (char key in "fuhyd-<tx")
        {
            played.Press(key);
        }

        MonitorSettings now = played.Controls.Monitor.Settings;
        Assert.True(now.BandListen);
        Assert.Equal(24, now.BandSlopeDbPerOctave);
        Assert.Equal(MonitorChannels.Mono, now.Channels);
        Assert.True(now.IsSwapped);
        Assert.True(now.IsDimmed);
        Assert.Equal(before.LevelDb - 1, now.LevelDb);
        Assert.Equal(before.SafetyCeilingDbfs - 1, now.SafetyCeilingDbfs);
        Assert.Equal(MonitorSignal.Tone, now.Signal);
        Assert.Equal(before.BandCentreHz * Math.Pow(2, 1 / 6.0), now.BandCentreHz, 1e-6);
        for (int i = 0; i < 40; i++)
        {
            played.Press('<');
        }

        Assert.Equal(-30, played.Controls.Monitor.Settings.SafetyCeilingDbfs);
        for (int i = 0; i < 40; i++)
        {
            played.Press('>');
        }

        Assert.Equal(-1, played.Controls.Monitor.Settings.SafetyCeilingDbfs);
    }

    [Fact]
    public void MarkerStandsAtItsFrameAndTheJumpLandsOnIt()
    {
        played.Run(0.2137);
        played.Press(ConsoleKey.Spacebar);
        played.Run(0.1);
        double place = played.Player.Look().PositionSeconds;
        long frame = (long)Math.Round(place * PlayedAlbum.SampleRate);
        Assert.Equal((double)frame / PlayedAlbum.SampleRate, place);
        played.Press('k');
        Assert.Equal(place, Assert.Single(played.OnDisk().Songs[0].Markers).AtSeconds);

        // Frames whose seconds, times the rate, come out just below them.
        int[] frames = [.. Enumerable.Range(10_000, 100_000).Where(at => (long)((double)at / PlayedAlbum.SampleRate * PlayedAlbum.SampleRate) != at).Take(5)];
        Assert.NotEmpty(frames);
        long latency = PlayedAlbum.SampleRate - HeardAfterJump(1);
        Assert.All(frames, at => Assert.Equal(at, HeardAfterJump((double)at / PlayedAlbum.SampleRate) + latency));
    }

    [Fact]
    public void HelpNamesKeysThatDoSomething()
    {
        Assert.All(played.Keys.Help(), line => Assert.Matches("^.+: .+$", line));
        Assert.Contains(played.Keys.Help(), line => line.Contains("safety limiter", StringComparison.Ordinal));
        Assert.False(played.Keys.Press(new ConsoleKeyInfo('%', ConsoleKey.D5, true, false, false)));
        played.Press('q');
        Assert.True(played.Keys.WantsToQuit);
    }

    [Fact]
    public void WhileABlindTestRunsNothingCanBeChanged()
    {
        played.Press('v');
        played.Run(3.5);
        played.Press('r');
        Assert.True(played.Controls.Blind.IsRunning);
        played.Press('s');
        played.Press('f');
        Assert.False(played.Player.Song!.Stems[0].Placement.Soloed);
        Assert.False(played.Controls.Monitor.Settings.BandListen);
        played.Press('<');
        Assert.Equal(-7, played.Controls.Monitor.Settings.SafetyCeilingDbfs);
    }

    // What is heard lags behind what is read by the latency of the plan; a jump names what is read.
    private long HeardAfterJump(double seconds)
    {
        double before = played.Player.Look().PositionSeconds;
        played.Controls.Jump(seconds);
        for (int turn = 0; turn < 500 && played.Player.Look().PositionSeconds == before; turn++)
        {
            played.Run(0.01);
        }

        return (long)Math.Round(played.Player.Look().PositionSeconds * PlayedAlbum.SampleRate);
    }
}
