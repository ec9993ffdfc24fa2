using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.Storage;

/// <summary>An album that is being worked on: every change goes through here, and can be taken back.</summary>
public sealed class AlbumSession : IDisposable
{
    private readonly ProcessorCatalogue catalogue;
    private EditHistory history;
    private Album saved;
    private string? failure;

    private AlbumSession(string folder, Album album, ProcessorCatalogue catalogue)
    {
        Folder = folder;
        this.catalogue = catalogue;
        history = EditHistory.StartingWith(album);
        saved = album;
    }

    /// <summary>The album's folder.</summary>
    public string Folder { get; }

    /// <summary>The album as it is.</summary>
    public Album Album => history.Current;

    /// <summary>What <see cref="Undo"/> would take back, or null.</summary>
    public string? UndoWords => history.UndoWords;

    /// <summary>What <see cref="Redo"/> would do again, or null.</summary>
    public string? RedoWords => history.RedoWords;

    /// <summary>What led here, the latest first.</summary>
    public IEnumerable<string> Words => history.Words;

    /// <summary>Opens an album for changes.</summary>
    /// <exception cref="AlbumException">As <see cref="AlbumFile.Load"/>.</exception>
    public static AlbumSession Open(string albumFolderOrFile, ProcessorCatalogue catalogue) =>
        new(AlbumFile.FolderOf(albumFolderOrFile), AlbumFile.Load(albumFolderOrFile, catalogue), catalogue);

    /// <summary>A step to another state, which keeps the rules of albums.</summary>
    /// <param name="album">The new state.</param>
    /// <param name="words">What was done; null lets the difference speak.</param>
    /// <param name="gesture">Steps of one gesture that follow each other are taken back together.</param>
    public void Do(Album album, string? words = null, string? gesture = null) =>
        history = history.Do(album, words ?? string.Join("; ", AlbumDifference.Between(history.Current, album, catalogue).Take(1)), gesture);

    /// <summary>The next step is one of its own.</summary>
    public void EndGesture() => history = history.EndGesture();

    /// <summary>Takes the latest step back; false when there is none.</summary>
    public bool Undo()
    {
        bool can = UndoWords is not null;
        history = history.Undo();
        return can;
    }

    /// <summary>Does again what was taken back last; false when there is nothing.</summary>
    public bool Redo()
    {
        bool can = RedoWords is not null;
        history = history.Redo();
        return can;
    }

    /// <summary>Saves the album.</summary>
    public void Save()
    {
        try
        {
            AlbumFile.Save(Album, Folder, catalogue);
            saved = Album;
        }
        catch (AlbumException fault)
        {
            failure = fault.Message;
        }
    }

    /// <summary>What went wrong in the background since the last call, as one line; or null.</summary>
    public string? TakeFailure() => Interlocked.Exchange(ref failure, null);

    /// <summary>Saves and closes.</summary>
    public void Dispose()
    {
        if (!ReferenceEquals(saved, Album))
        {
            Save();
        }
    }
}
