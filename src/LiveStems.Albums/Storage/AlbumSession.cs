using System.Collections.Immutable;
using LiveStems.Albums.History;
using LiveStems.Albums.Journal;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.Storage;

/// <summary>
/// An album that is being worked on: every change goes through here, is journalled beside the album within a fraction of a
/// second, and can be taken back, in this run and in later ones.
/// </summary>
/// <remarks>
/// One thread at a time; disks are waited for by another. One program at a time may have an album open for changes. The
/// journal, <c>album.journal</c>, tells every state by what it changed, so the album on disk is found in it by its
/// digest: what follows there was not saved, what stands before can be undone.
/// </remarks>
public sealed class AlbumSession : IDisposable
{
    /// <summary>Name of the journal in the album's folder.</summary>
    public const string JournalName = JournalFile.Name;

    private readonly ProcessorCatalogue catalogue;
    private readonly FileStream key;
    private readonly SessionWriter writer;
    private EditHistory history;

    private AlbumSession(string folder, EditHistory history, SessionWriter writer, FileStream key, ProcessorCatalogue catalogue)
    {
        Folder = folder;
        this.history = history;
        this.writer = writer;
        this.key = key;
        this.catalogue = catalogue;
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

    /// <summary>What the person should know about the opening; null for nothing.</summary>
    public string? Remark { get; private init; }

    /// <summary>Changes of an earlier session that are in the journal and not in the album; null when there are none.</summary>
    /// <remarks>While the album is open elsewhere its changes are being saved, and none are told.</remarks>
    /// <exception cref="AlbumException">As <see cref="AlbumFile.Load"/>.</exception>
    public static UnsavedChanges? FindUnsaved(string albumFolderOrFile, ProcessorCatalogue catalogue)
    {
        string folder = AlbumFile.FolderOf(albumFolderOrFile);
        if (!File.Exists(Path.Combine(folder, JournalFile.Name)) || IsOpen(folder))
        {
            return null;
        }

        string text = AlbumText.Of(AlbumFile.Load(albumFolderOrFile, catalogue), catalogue);
        return JournalReplay.Of(Read(folder).Records, text) is { Pending.IsEmpty: false } replay ? Told(replay) : null;
    }

    /// <summary>Opens an album for changes.</summary>
    /// <param name="albumFolderOrFile">The album.</param>
    /// <param name="catalogue">The processors there are.</param>
    /// <param name="unsaved">What happens with changes that a crash kept from being saved.</param>
    /// <exception cref="AlbumException">
    /// As <see cref="AlbumFile.Load"/>; or the album is open elsewhere, or holds unsaved changes that are to be refused.
    /// </exception>
    public static AlbumSession Open(string albumFolderOrFile, ProcessorCatalogue catalogue, Unsaved unsaved = Unsaved.Refuse)
    {
        string file = AlbumFile.FileOf(albumFolderOrFile);
        string folder = AlbumFile.FolderOf(albumFolderOrFile);
        Album album = AlbumFile.Load(albumFolderOrFile, catalogue);
        FileStream key = AlbumLock.TryTake(folder)
            ?? throw new AlbumException($"{folder}: the album is open in another LiveStems; close it there first");
        try
        {
            return Open(file, folder, album, key, catalogue, unsaved);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            key.Dispose();
            throw new AlbumException($"{folder}: the album cannot be changed, its journal cannot be written: {fault.Message}", fault);
        }
        catch
        {
            key.Dispose();
            throw;
        }
    }

    /// <summary>Changes an album in one step, saved when this returns.</summary>
    /// <returns>The album before and after.</returns>
    /// <exception cref="AlbumException">As <see cref="Open(string, ProcessorCatalogue, Unsaved)"/> and as <paramref name="change"/>; or it cannot be saved.</exception>
    public static (Album Before, Album After) Change(string albumFolderOrFile, ProcessorCatalogue catalogue, Func<Album, Album> change, string? words = null)
    {
        using AlbumSession session = Open(albumFolderOrFile, catalogue);
        Album before = session.Album;
        session.Do(change(before), words);
        session.Flush();
        return (before, session.Album);
    }

    /// <summary>A step to another state, which keeps the rules of albums; none when it is the same record.</summary>
    /// <param name="album">The new state.</param>
    /// <param name="words">What was done; null lets the difference speak.</param>
    /// <param name="gesture">Steps of one gesture that follow each other are taken back together.</param>
    public void Do(Album album, string? words = null, string? gesture = null)
    {
        if (ReferenceEquals(album, Album))
        {
            return;
        }

        // A step that goes on did what differs from where it began.
        bool goesOn = history.GoesOnWith(gesture);
        string said = words ?? StepWords.Of(goesOn ? history.Undo().Current : Album, album, catalogue);
        history = history.Do(album, said, gesture);
        writer.Add(new JournalChange(goesOn ? JournalKind.More : JournalKind.Do, said, album));
    }

    /// <summary>The next step is one of its own.</summary>
    public void EndGesture() => history = history.EndGesture();

    /// <summary>Takes the latest step back; false when there is none.</summary>
    /// <exception cref="AlbumException">The step is one of an earlier run, and the journal of it is damaged.</exception>
    public bool Undo()
    {
        string? words = UndoWords;
        return words is not null && Go(history.Undo(), JournalKind.Undo, words);
    }

    /// <summary>Does again what was taken back last; false when there is nothing.</summary>
    /// <exception cref="AlbumException">The step is one of an earlier run, and the journal of it is damaged.</exception>
    public bool Redo()
    {
        string? words = RedoWords;
        return words is not null && Go(history.Redo(), JournalKind.Redo, words);
    }

    /// <summary>Saves the album now, without waiting for it; it is saved by itself soon after every change too.</summary>
    public void Save() => writer.AskToSave();

    /// <summary>Saves the album and waits for it.</summary>
    /// <exception cref="AlbumException">It could not be saved.</exception>
    public void Flush()
    {
        writer.Flush();
        if (writer.TakeFailure() is { } failure)
        {
            throw new AlbumException(failure);
        }
    }

    /// <summary>What went wrong in the background since the last call, as one line; or null.</summary>
    public string? TakeFailure() => writer.TakeFailure();

    /// <summary>
    /// Once it is closed: one line that says what could not be saved, where, and what to do, with a copy of it kept elsewhere;
    /// null when all is on the disk.
    /// </summary>
    public string? Rescue() => writer.Rescue();

    /// <summary>Saves and closes; whether it could, <see cref="Rescue"/> says.</summary>
    public void Dispose()
    {
        writer.Dispose();
        key.Dispose();
    }

    private static AlbumSession Open(string file, string folder, Album album, FileStream key, ProcessorCatalogue catalogue, Unsaved unsaved)
    {
        string text = AlbumText.Of(album, catalogue);
        (List<JournalRecord> records, long length) = Read(folder);
        JournalReplay? replay = JournalReplay.Of(records, text);
        if (replay is null)
        {
            string? remark = SetAside(folder, records);
            JournalFile fresh = JournalFile.Open(folder, 0);
            fresh.Add([new JournalRecord(JournalKind.Start, string.Empty, null, JournalFile.DigestOf(text), DateTimeOffset.UtcNow)]);
            SessionWriter writer = new(file, fresh, album, text, isDirty: false, catalogue);
            return new AlbumSession(folder, EditHistory.StartingWith(album), writer, key, catalogue) { Remark = remark };
        }

        if (replay.Pending.IsEmpty)
        {
            EditHistory before = JournalStates.History(replay, album, file, catalogue);
            return new AlbumSession(folder, before, new SessionWriter(file, JournalFile.Open(folder, length), album, text, isDirty: false, catalogue), key, catalogue);
        }

        UnsavedChanges changes = Told(replay);
        if (unsaved == Unsaved.Refuse)
        {
            throw new AlbumException($"{folder}: {changes}, were not saved when a session ended; 'livestems recover \"{folder}\"' takes them in, with --leave it leaves them");
        }

        Album recovered = AlbumFile.Parse(System.Text.Encoding.UTF8.GetBytes(replay.Text), file, catalogue);
        EditHistory history = JournalStates.History(replay, recovered, file, catalogue);
        SessionWriter keeper = new(file, JournalFile.Open(folder, length), recovered, replay.Text, isDirty: true, catalogue);
        AlbumSession session = new(folder, history, keeper, key, catalogue)
        {
            Remark = unsaved == Unsaved.TakeIn
                ? $"{changes}, were not saved when a session ended; they were taken in, and can be undone"
                : $"{changes}, were not saved when a session ended; they were left, and undo brings them back",
        };
        if (unsaved == Unsaved.Leave)
        {
            session.Do(album, "leave unsaved changes of an earlier session");
        }

        return session;
    }

    private static UnsavedChanges Told(JournalReplay replay) => new(
        [.. replay.Pending.Where(record => record.Kind != JournalKind.More).Select(record => record.Kind == JournalKind.Undo ? $"undo {record.Words}" : record.Words).DefaultIfEmpty(replay.Pending[^1].Words)],
        replay.Pending[^1].At);

    private static (List<JournalRecord> Records, long Length) Read(string folder)
    {
        try
        {
            return JournalFile.Read(folder);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new AlbumException($"{Path.Combine(folder, JournalFile.Name)}: the journal cannot be read: {fault.Message}", fault);
        }
    }

    private static bool IsOpen(string folder)
    {
        try
        {
            using FileStream? key = AlbumLock.TryTake(folder);
            return key is null;
        }
        catch (AlbumException)
        {
            // Nobody can have it open where nothing can be written.
            return false;
        }
    }

    // A journal that does not lead to the album is of no use, but nothing is thrown away.
    private static string? SetAside(string folder, List<JournalRecord> records)
    {
        string path = Path.Combine(folder, JournalFile.Name);
        if (records.Count <= 1 && !(File.Exists(path) && new FileInfo(path).Length > 0 && records.Count == 0))
        {
            return null;
        }

        string aside = Path.Combine(folder, $"album.{DateTime.UtcNow:yyyyMMdd-HHmmss}.journal");
        File.Move(path, aside, overwrite: true);
        return $"the album was changed by something else; undo starts anew, the journal so far is kept as {Path.GetFileName(aside)}";
    }

    private bool Go(EditHistory next, JournalKind kind, string words)
    {
        history = next;
        writer.Add(new JournalChange(kind, words, history.Current));
        return true;
    }
}
