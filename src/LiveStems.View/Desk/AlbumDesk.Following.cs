using LiveStems.Albums.Model;

namespace LiveStems.View.Desk;

// The album as it will stand: its songs one after the other.
public sealed partial class AlbumDesk
{
    private Song? next;

    /// <summary>True while songs are heard as they stand on the album, each following the one before.</summary>
    public bool IsWholeAlbum => whole.IsOn;

    /// <summary>Where the song starts in seconds: as it is cut while the whole album is heard, otherwise 0.</summary>
    public double StartSeconds => whole.StartOf(Song);

    /// <summary>
    /// Hears the album as it will stand, with its gaps, cuts, fades and cross-fades, song after song from the one that is
    /// shown; or this song alone and whole.
    /// </summary>
    public void ToggleWholeAlbum()
    {
        whole.IsOn = !whole.IsOn;
        FollowNext(isAnew: true);
        Revision++;
        if (Transport.Loop is null && Transport.PositionSeconds < StartSeconds)
        {
            Player.JumpTo(StartSeconds);
        }

        Say(MessageKind.Remark, whole.IsOn ? "songs follow each other as they stand on the album, from this one on" : "each song by itself, whole");
    }

    // Of the same song as before nothing is said again: it may be opened already.
    private void FollowNext(bool isAnew = false)
    {
        Song? coming = whole.IsOn && SongIndex + 1 < Album.Songs.Length ? Album.Songs[SongIndex + 1] : null;
        if (isAnew || !ReferenceEquals(coming, next))
        {
            next = coming;
            whole.Follow(coming is null ? null : AsHeard(coming), Folder);
        }
    }

    // The next song has begun: it is the one that is shown.
    private void GoOnWithNext()
    {
        if (!whole.TakeFollowed())
        {
            return;
        }

        string? title = Player.Song?.Title;
        int place = Album.Songs.ToList().FindIndex(song => song.Title == title);
        SongIndex = place >= 0 ? place : Math.Min(SongIndex + 1, Album.Songs.Length - 1);
        BeginOtherSong();
        OnAlbumChanged();
        PutTaps();
    }
}
