using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;

namespace LiveStems.App.Playing;

/// <summary>
/// The markers of an album on disk. Each change is saved at once, as a step that <c>undo</c> takes back, and changes
/// nothing else: what is only tried while listening stays out of the file.
/// </summary>
internal sealed class SongMarkers(string albumPath)
{
    // A jump back from a marker that was just passed goes to the one before it.
    private const double Here = 0.5;

    /// <summary>The marker at or before a place; null before the first.</summary>
    public static Marker? At(Song song, double seconds) =>
        song.Markers.Where(marker => marker.AtSeconds <= seconds).MaxBy(marker => marker.AtSeconds);

    /// <summary>The next marker after a place, or null.</summary>
    public static Marker? After(Song song, double seconds) =>
        song.Markers.Where(marker => marker.AtSeconds > seconds + 0.001).MinBy(marker => marker.AtSeconds);

    /// <summary>The marker before a place, or null.</summary>
    public static Marker? Before(Song song, double seconds) => At(song, seconds - Here);

    /// <summary>Sets a marker with the next free name, exactly where it is said; the song's markers then.</summary>
    /// <exception cref="Albums.AlbumException">The album cannot be read or saved.</exception>
    public Song Add(Song song, double seconds) =>
        Change(song, album => AlbumEdits.AddMarker(album, song.Title, null, seconds, Processors.Catalogue));

    /// <summary>Takes a marker away.</summary>
    /// <exception cref="Albums.AlbumException">The album cannot be read or saved.</exception>
    public Song Remove(Song song, Marker marker) =>
        Change(song, album => AlbumEdits.Remove(album, $"{song.Title}/marker:{marker.Name}", Processors.Catalogue));

    private Song Change(Song song, Func<Album, Album> change)
    {
        using AlbumSession session = AlbumSession.Open(albumPath, Processors.Catalogue);
        Album album = change(session.Album);
        session.Do(album);
        session.Flush();
        return song with { Markers = album.Songs[AlbumAddress.SongIndex(album, song.Title)].Markers };
    }
}
