using LiveStems.Albums.Model;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;

namespace LiveStems.App.Playing;

/// <summary>What the keys do: changes the song and the monitor and hands them to the player.</summary>
internal sealed class PlayControls(LivePlayer player, IReadOnlyList<Song> songs, int firstSong, string albumFolder, MonitorSettings monitor)
{
    private const double SixthOfAnOctave = 1.122462048309373;

    private readonly Song[] listened = [.. songs];
    private (double? In, double? Out) loop;
    private int songIndex = firstSong;

    /// <summary>The song with the changes of this listening.</summary>
    public Song Song
    {
        get => listened[songIndex];
        private set => listened[songIndex] = value;
    }

    /// <summary>The monitor as it is set.</summary>
    public MonitorSettings Monitor { get; private set; } = monitor;

    /// <summary>The stem that solo, mute and bypass work on.</summary>
    public int StemIndex { get; private set; }

    /// <summary>The stem that solo, mute and bypass work on.</summary>
    public Stem Stem => Song.Stems[StemIndex];

    /// <summary>True while every chain is passed by.</summary>
    public bool AllBypassed { get; private set; }

    /// <summary>The loop, in seconds, as far as it is set.</summary>
    public (double? In, double? Out) Loop => loop;

    /// <summary>Goes over to the song before or after.</summary>
    public void ChooseSong(int step)
    {
        songIndex = (songIndex + step + listened.Length) % listened.Length;
        StemIndex = 0;
        loop = default;
        Show();
    }

    public void ChooseStem(int step) => StemIndex = (StemIndex + step + Song.Stems.Length) % Song.Stems.Length;

    public void ToggleSolo() => ChangePlacement(placement => placement with { Soloed = !placement.Soloed });

    public void ToggleMute() => ChangePlacement(placement => placement with { Muted = !placement.Muted });

    public void ToggleChain() => ChangeStem(stem => stem with { Chain = stem.Chain with { Bypassed = !stem.Chain.Bypassed } });

    /// <summary>All chains in or out at once: the song as it is against the song as it came.</summary>
    public void ToggleAllChains()
    {
        AllBypassed = !AllBypassed;
        Show();
    }

    public void Jump(double seconds) => player.JumpTo(Math.Max(0, seconds), WholeLoop());

    public void SetLoopIn(double seconds)
    {
        loop = (seconds, loop.Out > seconds ? loop.Out : null);
        ApplyLoop(seconds);
    }

    public void SetLoopOut(double seconds)
    {
        loop = (loop.In < seconds ? loop.In : 0, seconds);
        ApplyLoop(loop.In ?? 0);
    }

    public void ClearLoop(double position)
    {
        loop = default;
        player.JumpTo(position);
    }

    /// <summary>Stereo, mono, side, and stereo again.</summary>
    public void NextChannels() => ChangeMonitor(monitor => monitor with { Channels = Next(monitor.Channels) });

    /// <summary>Music, tone, pink noise, and music again.</summary>
    public void NextSignal() => ChangeMonitor(monitor => monitor with { Signal = Next(monitor.Signal) });

    public void ToggleBand() => ChangeMonitor(monitor => monitor with { BandListen = !monitor.BandListen });

    public void MoveBand(int sixths) => ChangeMonitor(monitor => monitor with
    {
        BandListen = true,
        BandCentreHz = Math.Clamp(monitor.BandCentreHz * Math.Pow(SixthOfAnOctave, sixths), 20, 20_000),
    });

    public void WidenBand(double factor) => ChangeMonitor(monitor => monitor with
    {
        BandListen = true,
        BandWidthOctaves = Math.Clamp(monitor.BandWidthOctaves * factor, 1.0 / 12, 4),
    });

    public void ChangeLevel(double decibels) => ChangeMonitor(monitor => monitor with { LevelDb = Math.Clamp(monitor.LevelDb + decibels, -60, 0) });

    public void ChangeMonitor(Func<MonitorSettings, MonitorSettings> change)
    {
        Monitor = change(Monitor);
        player.SetMonitor(Monitor);
    }

    private static T Next<T>(T value)
        where T : struct, Enum
    {
        T[] all = Enum.GetValues<T>();
        return all[(Array.IndexOf(all, value) + 1) % all.Length];
    }

    private void ApplyLoop(double position)
    {
        if (WholeLoop() is not null)
        {
            player.JumpTo(position, WholeLoop());
        }
    }

    private (double, double)? WholeLoop() => loop is ({ } start, { } end) ? (start, end) : null;

    private void ChangePlacement(Func<Placement, Placement> change) => ChangeStem(stem => stem with { Placement = change(stem.Placement) });

    private void ChangeStem(Func<Stem, Stem> change)
    {
        Song = Song with { Stems = Song.Stems.SetItem(StemIndex, change(Stem)) };
        Show();
    }

    private void Show() => player.Show(AllBypassed ? WithoutChains(Song) : Song, albumFolder);

    // The limiter at the end of the bus stays in: taking it out would only be loud.
    private static Song WithoutChains(Song song) => song with
    {
        Stems = [.. song.Stems.Select(stem => stem with
        {
            Chain = stem.Chain with { Bypassed = true },
            Parallels = [.. stem.Parallels.Select(parallel => parallel with { Muted = true })],
        })],
        Bus = song.Bus with { Slots = [.. song.Bus.Slots.Select((slot, index) => index == song.Bus.Slots.Length - 1 ? slot : slot with { Bypassed = true })] },
    };
}
