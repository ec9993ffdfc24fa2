using LiveStems.Albums.Storage;

namespace LiveStems.Albums.Import;

/// <summary>
/// Reads the files of an import once: takes their digests and copies those from outside into a hidden folder of the
/// album, from where they take their places together, or not at all.
/// </summary>
internal sealed class FileIntake : IDisposable
{
    // Two keep a disk busy; more only make its head wander.
    private const int FilesAtATime = 2;

    private const string HiddenFolder = ".importing";

    private readonly string albumFolder;
    private readonly string waitingRoom;
    private readonly FileStream hold;
    private readonly List<string> placed = [];
    private readonly List<string> madeFolders = [];
    private bool kept;

    /// <exception cref="IOException">The album's folder cannot be written to, or another import is going on there.</exception>
    public FileIntake(string albumFolder)
    {
        this.albumFolder = albumFolder;
        waitingRoom = Path.Combine(albumFolder, HiddenFolder);
        MakeFolder(albumFolder);
        Directory.CreateDirectory(waitingRoom);
        hold = new FileStream(Path.Combine(waitingRoom, "hold"), FileMode.OpenOrCreate, FileAccess.Write, FileShare.None);
        foreach (string leftover in Directory.GetFiles(waitingRoom).Where(file => file != hold.Name))
        {
            File.Delete(leftover);
        }
    }

    /// <summary>Digests of the files, in their order; a file that cannot be read or copied is a fault.</summary>
    public string[] Take(IReadOnlyList<PlannedFile> files, AlbumFaults faults, IProgress<ImportProgress>? progress, CancellationToken cancel)
    {
        string[] digests = new string[files.Count];
        ReadingProgress reading = new(progress, files.Sum(file => new FileInfo(file.Source).Length));
        ParallelOptions options = new() { MaxDegreeOfParallelism = FilesAtATime, CancellationToken = cancel };
        Parallel.For(0, files.Count, options, i =>
        {
            try
            {
                digests[i] = Take(files[i], i, reading, cancel);
            }
            catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
            {
                lock (faults)
                {
                    faults.Add(files[i].Source, $"cannot be taken in: {fault.Message}");
                }
            }
        });
        return digests;
    }

    /// <summary>Puts the copy of a file at its place in the album; undone unless <see cref="Keep"/> follows.</summary>
    public void Place(PlannedFile file, int index)
    {
        string target = AlbumPath.OnDisk(albumFolder, file.AlbumPath);
        MakeFolder(Path.GetDirectoryName(target)!);
        File.Move(Waiting(index), target, overwrite: false);
        placed.Add(target);
    }

    /// <summary>What was placed stays.</summary>
    public void Keep() => kept = true;

    /// <summary>Removes the hidden folder and, unless it shall stay, everything that was placed.</summary>
    public void Dispose()
    {
        hold.Dispose();
        Directory.Delete(waitingRoom, recursive: true);
        if (kept)
        {
            return;
        }

        placed.ForEach(File.Delete);
        foreach (string folder in Enumerable.Reverse(madeFolders).Where(folder => !Directory.EnumerateFileSystemEntries(folder).Any()))
        {
            Directory.Delete(folder);
        }
    }

    private string Take(PlannedFile file, int index, ReadingProgress reading, CancellationToken cancel)
    {
        if (file.IsInside)
        {
            return Digest.Of(file.Source, null, reading.Add, cancel);
        }

        using FileStream copy = new(Waiting(index), FileMode.CreateNew, FileAccess.Write, FileShare.None, bufferSize: 0);
        string digest = Digest.Of(file.Source, copy, reading.Add, cancel);
        copy.Flush(flushToDisk: true);
        return digest;
    }

    private string Waiting(int index) => Path.Combine(waitingRoom, $"{index}.part");

    private void MakeFolder(string folder)
    {
        if (!Directory.Exists(folder))
        {
            Directory.CreateDirectory(folder);
            madeFolders.Add(folder);
        }
    }
}
