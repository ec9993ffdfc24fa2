using System.Buffers;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.Journal;

/// <summary>A change on its way to the disk.</summary>
internal sealed record JournalChange(JournalKind Kind, string Words, Album Album);

/// <summary>
/// Writes an album's changes to the journal, each within a fraction of a second, and the album itself soon after the last,
/// on a thread of its own: whoever changes the album never waits for a disk.
/// </summary>
internal sealed class SessionWriter : IDisposable
{
    // Changes are told to the disk at most so often; the last one always is.
    private static readonly TimeSpan BetweenFlushes = TimeSpan.FromMilliseconds(200);
    private static readonly TimeSpan QuietBeforeSaving = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan LongestUnsaved = TimeSpan.FromSeconds(30);

    private readonly Lock gate = new();
    private readonly AutoResetEvent wake = new(false);
    private readonly ManualResetEventSlim idle = new(true);
    private readonly string file;
    private readonly JournalFile journal;
    private readonly ProcessorCatalogue catalogue;
    private readonly AlbumTexts texts;
    private readonly ArrayBufferWriter<byte> saved = new();
    private readonly Thread thread;
    private List<JournalChange> waiting = [];
    private Album album;
    private bool isDirty;
    private bool isSavingAsked;
    private bool isStopping;
    private DateTime firstChange;
    private DateTime lastChange;
    private FileStamp stamp;
    private string? failure;
    private string? keepFault;
    private string? saveFault;

    /// <param name="file">The album's file.</param>
    /// <param name="journal">Open behind its last line; becomes the writer's.</param>
    /// <param name="album">The album as it is.</param>
    /// <param name="text">Its text, which the journal's last state is.</param>
    /// <param name="isDirty">True when the file does not hold it yet.</param>
    /// <param name="catalogue">The processors there are.</param>
    public SessionWriter(string file, JournalFile journal, Album album, string text, bool isDirty, ProcessorCatalogue catalogue)
    {
        this.file = file;
        this.journal = journal;
        this.album = album;
        this.isDirty = isDirty;
        this.catalogue = catalogue;
        texts = new AlbumTexts(text, catalogue);
        stamp = FileStamp.Of(file);
        firstChange = lastChange = DateTime.UtcNow;
        thread = new Thread(WriteOn) { IsBackground = true, Name = "album" };
        thread.Start();
    }

    /// <summary>Hands a change over; returns at once.</summary>
    public void Add(JournalChange change)
    {
        lock (gate)
        {
            waiting.Add(change);
            idle.Reset();
        }

        wake.Set();
    }

    /// <summary>Asks for the album to be saved now; returns at once.</summary>
    public void AskToSave()
    {
        lock (gate)
        {
            isSavingAsked = true;
            idle.Reset();
        }

        wake.Set();
    }

    /// <summary>Waits until everything handed over is on the disk, the album too.</summary>
    public void Flush()
    {
        AskToSave();
        idle.Wait();
    }

    /// <summary>What went wrong since the last call, or null.</summary>
    public string? TakeFailure() => Interlocked.Exchange(ref failure, null);

    /// <summary>
    /// Once it is disposed of: one line that says what could not be written, where, and what to do, with a copy of it kept
    /// elsewhere; null when all is on the disk.
    /// </summary>
    public string? Rescue() => !isDirty ? null
        : waiting.Count == 0 ? LastResort.Journalled(saveFault!)
        : LastResort.Copied(file, string.Join("; ", waiting.Select(change => change.Words).Distinct()), keepFault!, album, catalogue);

    /// <summary>Writes what waits, saves, and ends.</summary>
    public void Dispose()
    {
        lock (gate)
        {
            isStopping = true;
        }

        wake.Set();
        thread.Join();
        journal.Dispose();
        wake.Dispose();
        idle.Dispose();
    }

    private void WriteOn()
    {
        while (true)
        {
            wake.WaitOne(isDirty ? BetweenFlushes : Timeout.InfiniteTimeSpan);
            List<JournalChange> changes;
            bool stops;
            bool saves;
            lock (gate)
            {
                (changes, waiting) = (waiting, []);
                stops = isStopping;
                saves = isSavingAsked || stops;
                isSavingAsked = false;
            }

            bool isKept = Keep(changes);
            if (isDirty && (saves || IsTimeToSave()))
            {
                Save();
            }

            lock (gate)
            {
                // Who waits is told of the failure instead; whoever closes cannot wait for a disk to be emptied.
                bool isDone = waiting.Count == 0 && !isSavingAsked;
                if (isDone || !isKept)
                {
                    idle.Set();
                }

                if (stops && (isDone || !isKept))
                {
                    return;
                }
            }

            if (!stops && !saves)
            {
                Thread.Sleep(BetweenFlushes);
            }
        }
    }

    private bool IsTimeToSave() => DateTime.UtcNow - lastChange > QuietBeforeSaving || DateTime.UtcNow - firstChange > LongestUnsaved;

    // False when the changes could not be written and wait for another attempt.
    private bool Keep(List<JournalChange> changes)
    {
        if (changes.Count == 0)
        {
            return true;
        }

        lastChange = DateTime.UtcNow;
        firstChange = isDirty ? firstChange : lastChange;
        isDirty = true;
        List<JournalRecord> records = [];
        foreach (JournalChange change in Coalesced(changes))
        {
            TextPatch? patch = null;
            if (change.Kind is JournalKind.Do or JournalKind.More)
            {
                patch = texts.Follow(change.Album);
            }
            else
            {
                texts.Add(change.Album);
            }

            records.Add(new JournalRecord(change.Kind, change.Words, patch, texts.Digest, DateTimeOffset.UtcNow));
        }

        album = changes[^1].Album;
        try
        {
            journal.Add(records);
            texts.Keep();
            return true;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            texts.Forget();
            keepFault = fault.Message;
            failure = $"{JournalFile.Name}: the latest changes cannot be kept: {fault.Message}";

            // What could not be written is one step for the next attempt: it can be taken back as a whole.
            lock (gate)
            {
                waiting.Insert(0, new JournalChange(JournalKind.Do, string.Join("; ", records.Select(record => record.Words).Distinct().Take(3)), album));
            }

            return false;
        }
    }

    // A step that went on while the disk was busy counts with its last state.
    private static IEnumerable<JournalChange> Coalesced(List<JournalChange> changes)
    {
        for (int i = 0; i < changes.Count; i++)
        {
            JournalChange change = changes[i];
            while (i + 1 < changes.Count && changes[i + 1].Kind == JournalKind.More && change.Kind is JournalKind.Do or JournalKind.More)
            {
                i++;
                change = changes[i] with { Kind = change.Kind };
            }

            yield return change;
        }
    }

    private void Save()
    {
        try
        {
            if (FileStamp.Of(file) != stamp && File.Exists(file))
            {
                string kept = Path.ChangeExtension(file, ".outside.json");
                File.Copy(file, kept, overwrite: true);
                failure = $"{file} was changed by something else in the meantime; what it said is kept in {Path.GetFileName(kept)}";
            }

            AlbumFile.SaveThrough(saved, album, file, catalogue);
            stamp = FileStamp.Of(file);
            isDirty = false;
        }
        catch (Exception fault) when (fault is AlbumException or IOException or UnauthorizedAccessException)
        {
            failure = saveFault = fault.Message;
            lastChange = firstChange = DateTime.UtcNow;
        }
    }
}
