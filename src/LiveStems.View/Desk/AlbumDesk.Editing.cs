using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;

namespace LiveStems.View.Desk;

// How the album is changed, and how changes are taken back.
public sealed partial class AlbumDesk
{
    /// <summary>What <see cref="Undo"/> would take back, or null.</summary>
    public string? UndoWords => editing.UndoWords;

    /// <summary>What <see cref="Redo"/> would do again, or null.</summary>
    public string? RedoWords => editing.RedoWords;

    /// <summary>Changes the album. Null when done (or when nothing is other), otherwise what is wrong.</summary>
    /// <param name="change">Gives the changed album, or throws <see cref="AlbumException"/>.</param>
    /// <param name="gesture">Names a movement of many steps, such as a fader being dragged, which is undone as one.</param>
    /// <param name="words">What is done, for undo; null lets the difference speak.</param>
    public string? Edit(Func<Album, Album> change, string? gesture = null, string? words = null) => editing.Do(change, gesture, words);

    /// <summary>Changes the song that is shown.</summary>
    public string? EditSong(Func<Song, Song> change, string? gesture = null, string? words = null) =>
        Edit(album => change(album.Songs[SongIndex]) is { } song && !ReferenceEquals(song, album.Songs[SongIndex])
            ? album with { Songs = album.Songs.SetItem(SongIndex, song) }
            : album, gesture, words);

    /// <summary>Sets a value by its address, as the command <c>set</c> does.</summary>
    public string? Set(string address, string value) => Edit(album => AlbumAddress.Set(album, address, value, Catalogue));

    /// <summary>Ends a movement: what follows is undone on its own.</summary>
    public void EndGesture() => editing.EndGesture();

    /// <summary>Takes the latest step back; returns its words, or null when there is none.</summary>
    public string? Undo() => editing.Undo();

    /// <summary>Does again what was taken back last; returns its words, or null when there is none.</summary>
    public string? Redo() => editing.Redo();

    /// <summary>Saves the album now; it is saved by itself soon after every change too.</summary>
    public void Save() => session.Save();

    /// <summary>Something was done beside the album, such as deleting a version, that undo takes back in its turn.</summary>
    internal void AddStepBeside(string words, Action undo, Action redo) => editing.AddBeside(words, undo, redo);

    /// <summary>Moves a song to another place; the song that is shown stays the same.</summary>
    internal string? MoveSong(int song, int to, string words) =>
        Edit(album => album with { Songs = album.Songs.RemoveAt(song).Insert(to, album.Songs[song]) }, words: words);
}
