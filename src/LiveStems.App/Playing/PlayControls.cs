using LiveStems.Albums;
using LiveStems.Albums.Model;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;
using LiveStems.Files;

namespace LiveStems.App.Playing;

/// <summary>What the keys do: changes the song and the monitor and hands them to the player.</summary>
internal sealed class PlayControls
{
    private readonly LivePlayer player;
    private readonly string albumFolder;
    private readonly SongMarkers markers;
    private readonly Song[] listened;
    private readonly WholeAlbum whole;
    private readonly Queue<string> news = [];
    private (double? In, double? Out) loop;
    private int songIndex;
    private (int Song, int Stem, (double? In, double? Out) Loop)? left;
    private string? toldFault;

    public PlayControls(
        LivePlayer player, IReadOnlyList<Song> songs, int firstSong, string albumFolder, MonitorSettings monitor, SongMarkers markers, PlayComparing comparing)
    {
        this.player = player;
        this.albumFolder = albumFolder;
        this.markers = markers;
        listened = [.. songs];
        whole = new WholeAlbum(player);
        songIndex = firstSong;
        Monitor = new MonitorControls(player, monitor, Tell);
        Chains = new ChainControls(this);
        Compare = new CompareControls(player, this) { Further = comparing.Further };
        Blind = new BlindControls(player, this, comparing.Rounds, albumFolder);
    }

    /// <summary>What the keys for comparing do.</summary>
    public CompareControls Compare { get; }

    /// <summary>The blind test.</summary>
    public BlindControls Blind { get; }

    /// <summary>What the keys for the monitor do.</summary>
    public MonitorControls Monitor { get; }

    /// <summary>What the keys for bypass do.</summary>
    public ChainControls Chains { get; }

    /// <summary>The song with the changes of this listening.</summary>
    public Song Song
    {
        get => listened[songIndex];
        private set => listened[songIndex] = value;
    }

    /// <summary>The stem that solo, mute and bypass work on.</summary>
    public int StemIndex { get; private set; }

    /// <summary>The stem that solo, mute and bypass work on.</summary>
    public Stem Stem => Song.Stems[StemIndex];

    /// <summary>True when the songs of the album follow each other.</summary>
    public bool IsWholeAlbum => whole.IsOn;

    /// <summary>Where the song starts, in seconds.</summary>
    public double StartSeconds => whole.StartOf(Song);

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

    /// <summary>Lets the player go on, tells what went wrong, and goes along when the next song has begun.</summary>
    public void Update()
    {
        IReadOnlyList<string> troubles = [];
        bool isWell = Try(() => troubles = player.Update(), isRepeated: true);
        toldFault = isWell ? null : toldFault;
        foreach (string trouble in troubles)
        {
            Tell(trouble);
        }

        if (whole.TakeFollowed())
        {
            songIndex = (songIndex + 1) % listened.Length;
            StemIndex = 0;
            loop = default;
            SetFollowing();
        }
    }

    /// <summary>
    /// Does what may need files. When they cannot be opened, the fault is told, what played goes on, and the keys work on that
    /// again; false then.
    /// </summary>
    public bool Try(Action act) => Try(act, isRepeated: false);

    private bool Try(Action act, bool isRepeated)
    {
        try
        {
            act();
            return true;
        }
        catch (Exception fault) when (fault is AudioFileException or IOException or UnauthorizedAccessException)
        {
            if (!isRepeated || fault.Message != toldFault)
            {
                Tell(fault.Message);
            }

            toldFault = isRepeated ? fault.Message : toldFault;
            GoBack();
            return false;
        }
    }

    /// <summary>Whether the songs of the album follow each other to its end, as they stand on it.</summary>
    public void PlayWholeAlbum(bool isWhole)
    {
        whole.IsOn = isWhole;
        SetFollowing();
    }

    /// <summary>Goes over to the song before or after.</summary>
    public void ChooseSong(int step)
    {
        left = (songIndex, StemIndex, loop);
        Compare.Leave();
        songIndex = (songIndex + step + listened.Length) % listened.Length;
        StemIndex = 0;
        loop = default;
        SetFollowing();
        Show();
        if (whole.StartOf(Song) is > 0 and var start)
        {
            Jump(start);
        }
    }

    public void ChooseStem(int step) => StemIndex = (StemIndex + step + Song.Stems.Length) % Song.Stems.Length;

    public void ToggleSolo() => ChangePlacement(placement => placement with { Soloed = !placement.Soloed });

    public void ToggleMute() => ChangePlacement(placement => placement with { Muted = !placement.Muted });

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
        ApplyLoop();
    }

    public void SetLoopOut(double seconds)
    {
        loop = (loop.In < seconds ? loop.In : 0, seconds);
        ApplyLoop();
    }

    public void ClearLoop()
    {
        loop = default;
        player.SetLoop(null);
    }

    /// <summary>Changes the chosen stem.</summary>
    public void ChangeStem(Func<Stem, Stem> change) => ChangeSong(song => song with { Stems = song.Stems.SetItem(StemIndex, change(Stem)) });

    /// <summary>Changes the song, for this listening only.</summary>
    public void ChangeSong(Func<Song, Song> change)
    {
        Song = change(Song);
        Show();
    }

    private void ApplyLoop()
    {
        if (WholeLoop() is { } whole)
        {
            player.SetLoop(whole);
        }
    }

    private (double, double)? WholeLoop() => loop is ({ } start, { } end) ? (start, end) : null;

    private void ChangePlacement(Func<Placement, Placement> change) => ChangeStem(stem => stem with { Placement = change(stem.Placement) });

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

    private void SetFollowing() => whole.Follow(songIndex + 1 < listened.Length ? listened[songIndex + 1] : null, albumFolder);

    private void Show() => player.Show(Song, albumFolder);

    // The keys work on what the player plays, wherever they were going.
    private void GoBack()
    {
        if (player.Song is not { } playing || Array.FindIndex(listened, song => song.Title == playing.Title) is not (>= 0 and var index))
        {
            return;
        }

        if (index != songIndex && left is { } before && before.Song == index)
        {
            (StemIndex, loop) = (before.Stem, before.Loop);
        }
        else if (index != songIndex)
        {
            (StemIndex, loop) = (0, default);
        }

        songIndex = index;
        listened[index] = playing with { Markers = listened[index].Markers };
        if (player.Comparing is { Chosen: not null, IsReady: false })
        {
            Compare.Leave();
        }

        SetFollowing();
    }
}
