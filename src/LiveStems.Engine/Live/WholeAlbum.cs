using LiveStems.Albums.Model;

namespace LiveStems.Engine.Live;

/// <summary>
/// Listening to the album as it will stand: its songs follow each other with their gaps, cuts, fades and cross-fades. For the
/// player's control thread, as the player is.
/// </summary>
/// <param name="player">What plays.</param>
public sealed class WholeAlbum(LivePlayer player)
{
    private int followed = player.FollowedSongs;

    /// <summary>True while songs are heard so.</summary>
    public bool IsOn
    {
        get => player.IsAsOnAlbum;
        set => player.IsAsOnAlbum = value;
    }

    /// <summary>Names the song to come while the album is heard as a whole; none comes otherwise.</summary>
    /// <param name="next">The next song, as it is to be heard; null behind the last.</param>
    /// <param name="albumFolder">The folder that its paths are relative to.</param>
    public void Follow(Song? next, string albumFolder) => player.Follow(IsOn ? next : null, albumFolder);

    /// <summary>True once, when the song to come has begun since the last call.</summary>
    public bool TakeFollowed()
    {
        bool hasFollowed = player.FollowedSongs != followed;
        followed = player.FollowedSongs;
        return hasFollowed;
    }

    /// <summary>Where a song starts in seconds: as it is cut while the album is heard as a whole.</summary>
    public double StartOf(Song song) => IsOn ? song.Edges.TrimStartSeconds : 0;
}
