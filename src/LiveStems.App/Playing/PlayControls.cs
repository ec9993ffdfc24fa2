using LiveStems.Albums;
using LiveStems.Albums.Model;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;

namespace LiveStems.App.Playing;

/// <summary>What the keys do: changes the song and the monitor and hands them to the player.</summary>
internal sealed class PlayControls
{
    private const double SixthOfAnOctave = 1.122462048309373;

    private readonly LivePlayer player;
    private readonly string albumFolder;
    private readonly SongMarkers markers;
    private readonly Song[] listened;
    private readonly Queue<string> news = [];
    private (double? In, double? Out) loop;
    private int songIndex;
    private int followedSongs;

    public PlayControls(
        LivePlayer player, IReadOnlyList<Song> songs, int firstSong, string albumFolder, MonitorSettings monitor, SongMarkers markers, PlayComparing comparing)
    {
        this.player = player;
        this.albumFolder = albumFolder;
        this.markers = markers;
        listened = [.. songs];
        songIndex = firstSong;
        Monitor = monitor;
        Compare = new CompareControls(player, this) { Further = comparing.Further };
        Blind = new BlindControls(player, this, comparing.Rounds, albumFolder);
    }

    /// <summary>What the keys for comparing do.</summary>
    public CompareControls Compare { get; }

    /// <summary>The blind test.</summary>
    public BlindControls Blind { get; }

    /// <summary>The song with the changes of this listening.</summary>
    public Song Song
    {
        get => listened[songIndex];
        private set => listened[songIndex] = value;
    }

    /// <summary>The monitor as it is set.</summary>
    public MonitorSettings Monitor { get; private set; }

    /// <summary>The stem that solo, mute and bypass work on.</summary>
    public int StemIndex { get; private set; }

    /// <summary>The stem that solo, mute and bypass work on.</summary>
    public Stem Stem => Song.Stems[StemIndex];

    /// <summary>True when the songs of the album follow each other.</summary>
    public bool IsWholeAlbum { get; private set; }

    /// <summary>The loop, in seconds, as far as it is set.</summary>
    public (double? In, double? Out) Loop => loop;

    /// <summary>What happened that the line does not show, since the last call.</summary>
    public IReadOnlyList<string> TakeNews()
    {
        string[] taken = [.. news];
        news.Clear();
        return taken;
    }

    /// <summary>Tells the listener something that the line does not show.</summary>
    public void Tell(string message) => news.Enqueue(message);

    /// <summary>Goes along with the player when the next song has begun.</summary>
    public void Update()
    {
        if (player.FollowedSongs != followedSongs)
        {
            followedSongs = player.FollowedSongs;
            songIndex = (songIndex + 1) % listened.Length;
            StemIndex = 0;
            loop = default;
            SetFollowing();
        }
    }

    /// <summary>Whether the songs of the album follow each other to its end, as they stand on it.</summary>
    public void PlayWholeAlbum(bool isWhole)
    {
        IsWholeAlbum = isWhole;
        player.IsAsOnAlbum = isWhole;
        SetFollowing();
    }

    /// <summary>Goes over to the song before or after.</summary>
    public void ChooseSong(int step)
    {
        Compare.Leave();
        songIndex = (songIndex + step + listened.Length) % listened.Length;
        StemIndex = 0;
        loop = default;
        SetFollowing();
        Show();
        if (IsWholeAlbum && Song.Edges.TrimStartSeconds > 0)
        {
            Jump(Song.Edges.TrimStartSeconds);
        }
    }

    public void ChooseStem(int step) => StemIndex = (StemIndex + step + Song.Stems.Length) % Song.Stems.Length;

    public void ToggleSolo() => ChangePlacement(placement => placement with { Soloed = !placement.Soloed });

    public void ToggleMute() => ChangePlacement(placement => placement with { Muted = !placement.Muted });

    public void ToggleChain() => ChangeStem(stem => stem with { Chain = stem.Chain with { Bypassed = !stem.Chain.Bypassed } });

    /// <summary>A processor of the stem's chain, by its place from 0, in or out.</summary>
    public void ToggleProcessor(int place)
    {
        if (place < Stem.Chain.Slots.Length)
        {
            ChainSlot slot = Stem.Chain.Slots[place];
            ChangeStem(stem => stem with { Chain = stem.Chain with { Slots = stem.Chain.Slots.SetItem(place, slot with { Bypassed = !slot.Bypassed }) } });
            news.Enqueue($"{Stem.Name}: {slot.Id} {(slot.Bypassed ? "in" : "out")}");
        }
        else
        {
            news.Enqueue($"{Stem.Name} has {(Stem.Chain.Slots.IsEmpty ? "no processors" : $"{Stem.Chain.Slots.Length} processors")} in its chain");
        }
    }

    public void ChangeGain(double decibels) => ChangePlacement(placement => placement with { GainDb = Held(AlbumFields.GainDb, placement.GainDb + decibels) });

    public void ChangePan(double step) => ChangePlacement(placement => placement with { Pan = Held(AlbumFields.Pan, Math.Round(placement.Pan + step, 2)) });

    public void TogglePolarity() => ChangePlacement(placement => placement with
    {
        Polarity = placement.Polarity == Polarity.Normal ? Polarity.Inverted : Polarity.Normal,
    });

    public void SetMarker(double seconds) => ChangeMarkers(() => markers.Add(Song, seconds), song => $"{song.Markers[^1].Name} set and saved");

    /// <summary>Takes the marker at or before a place away.</summary>
    public void RemoveMarker(double seconds)
    {
        if (SongMarkers.At(Song, seconds) is { } marker)
        {
            ChangeMarkers(() => markers.Remove(Song, marker), _ => $"{marker.Name} taken away and saved");
        }
    }

    /// <summary>Goes to the next marker (1) or the one before (−1); to the start where there is none before.</summary>
    public void JumpToMarker(int direction, double seconds)
    {
        double? place = direction > 0 ? SongMarkers.After(Song, seconds)?.AtSeconds : SongMarkers.Before(Song, seconds)?.AtSeconds ?? 0;
        if (place is { } there)
        {
            Jump(there);
        }
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

    private void ChangeMarkers(Func<Song> change, Func<Song, string> says)
    {
        try
        {
            Song = change();
            news.Enqueue(says(Song));
        }
        catch (Exception fault) when (fault is AlbumException or IOException or UnauthorizedAccessException)
        {
            news.Enqueue(fault.Message);
        }
    }

    private static double Held(AlbumField field, double value) => Math.Clamp(value, field.Spec.Minimum, field.Spec.Maximum);

    private void SetFollowing() => player.Follow(IsWholeAlbum && songIndex + 1 < listened.Length ? listened[songIndex + 1] : null, albumFolder);

    private void Show() => player.Show(Song, albumFolder);
}
