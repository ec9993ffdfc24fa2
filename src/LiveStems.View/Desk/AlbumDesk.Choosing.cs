using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Engine.Live;

namespace LiveStems.View.Desk;

// What of the album is shown, played, worked on and heard alone.
public sealed partial class AlbumDesk
{
    /// <summary>Index of the song that is shown and played.</summary>
    public int SongIndex { get; private set; }

    /// <summary>The song that is shown and played.</summary>
    public Song Song => Album.Songs[SongIndex];

    /// <summary>What the desk works on: a chain, or a processor in it.</summary>
    public TapPlace Selection { get; private set; } = TapPlace.Bus;

    /// <summary>The selected stem's row, or null while the song bus is selected.</summary>
    public StemRow? SelectedStem => Selection.IsBus ? null : Stems[Selection.Stem];

    /// <summary>Shows and plays a song by its index.</summary>
    public void ShowSong(int index)
    {
        int inside = Math.Clamp(index, 0, Album.Songs.Length - 1);
        if (inside == SongIndex)
        {
            return;
        }

        SongIndex = inside;
        BeginOtherSong();
        OnAlbumChanged();
        PutTaps();
        if (StartSeconds > 0)
        {
            Player.JumpTo(StartSeconds);
        }
    }

    /// <summary>Makes a chain or a processor what the desk works on.</summary>
    public void Select(TapPlace place)
    {
        Selection = ChainPlace.Nearest(Song, place);
        Revision++;
        Chain.Refresh();
        Compare.OnSelection();
        PutTaps();
    }

    /// <summary>Selects the next stem (1) or the one before (−1); the song bus stands behind the last.</summary>
    public void SelectStem(int step)
    {
        int count = Stems.Count + 1;
        int now = Selection.IsBus ? Stems.Count : Selection.Stem;
        int next = ((now + step) % count + count) % count;
        Select(next == Stems.Count ? TapPlace.Bus : TapPlace.OfStem(next));
    }

    /// <summary>Solo of a stem on or off.</summary>
    public void ToggleSolo(int stem, bool alone = false)
    {
        Solo.Toggle(Song, Song.Stems[stem].Name, alone);
        Revision++;
        ShowSong();
    }

    /// <summary>No stem of the song is soloed.</summary>
    public void ClearSolo()
    {
        Solo.Clear(Song);
        Revision++;
        ShowSong();
    }

    // The song that is shown stays shown wherever it stands now; where it is gone, the one in its place is shown.
    private void FollowSongs()
    {
        Album before = followed;
        followed = Album;
        if (SongPlaces.AreSame(before, Album))
        {
            Solo.Follow(before, Album, null);
            FollowStem(before.Songs[SongIndex]);
            return;
        }

        int?[] places = SongPlaces.After(before, Album);
        Solo.Follow(before, Album, places);
        Songs.Follow(places);
        FollowTitles(before, places);
        Song was = before.Songs[SongIndex];
        int? place = places[SongIndex];
        SongIndex = place ?? Math.Min(SongIndex, Album.Songs.Length - 1);
        if (place is null)
        {
            BeginOtherSong();
            PutTaps();
        }
        else
        {
            FollowStem(was);
            if (Song.Title != was.Title && !HaveSameFiles(was, Song))
            {
                // Other sounds under another title are another song to the player, which begins it without a loop.
                Transport.OnSongChanged();
            }
        }
    }

    private static bool HaveSameFiles(Song one, Song other) =>
        one.SampleRate == other.SampleRate
        && one.Stems.Select(stem => (stem.File, stem.Placement.DelayFrames)).SequenceEqual(other.Stems.Select(stem => (stem.File, stem.Placement.DelayFrames)));

    private void FollowTitles(Album before, int?[] places)
    {
        Dictionary<string, string> titles = new(StringComparer.Ordinal);
        for (int i = 0; i < places.Length; i++)
        {
            if (places[i] is { } place && before.Songs[i].Title != Album.Songs[place].Title)
            {
                titles[before.Songs[i].Title] = Album.Songs[place].Title;
            }
        }

        if (titles.Count > 0)
        {
            Player.Rename(titles);
        }
    }

    // What the desk works on stays that stem wherever it stands now; where it is gone, the song bus is chosen.
    private void FollowStem(Song was)
    {
        if (Selection.IsBus || ReferenceEquals(was, Song) || Selection.Stem >= was.Stems.Length)
        {
            return;
        }

        string? name = SongPlaces.StemAfter(was, Song, was.Stems[Selection.Stem].Name);
        int place = name is null ? -1 : Song.Stems.ToList().FindIndex(stem => stem.Name == name);
        if (place != Selection.Stem)
        {
            Selection = place < 0 ? TapPlace.Bus : Selection with { Stem = place };
            PutTaps();
        }
    }

    private void BeginOtherSong()
    {
        Compare.Stop();
        Selection = TapPlace.Bus;
        Analysis.AskToClearSpectra();
        Transport.OnSongChanged();
        if (!IsWholeAlbum)
        {
            Meters.BeginOtherSong();
        }
    }

    internal void PutTaps()
    {
        if (sound.Tap(Spectrum.ShowsSong ? TapPlace.Bus : Selection))
        {
            Analysis.AskToClearSpectra();
        }
    }
}
