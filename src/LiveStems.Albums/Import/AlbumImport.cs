using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Files;
using LiveStems.Files.Reading;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.Import;

/// <summary>Makes or extends an album from folders of sound files.</summary>
/// <remarks>
/// Files inside the album's folder are used where they lie; others are copied into a folder of the song's title. No
/// delivered file is moved or changed. Either everything is imported and the album saved, or nothing has changed.
/// </remarks>
public static class AlbumImport
{
    /// <summary>Imports folders and saves the album.</summary>
    /// <param name="order">What goes where.</param>
    /// <param name="catalogue">The processors that the album's chains are read by.</param>
    /// <param name="progress">Told the bytes that have been read, from several threads.</param>
    /// <param name="cancel">Ends the import; nothing has changed then.</param>
    /// <exception cref="AlbumException">
    /// Something stands in the way; <see cref="AlbumException.Faults"/> holds every fault with its file.
    /// </exception>
    /// <exception cref="OperationCanceledException">The import was cancelled.</exception>
    public static ImportResult Run(
        ImportOrder order, ProcessorCatalogue catalogue, IProgress<ImportProgress>? progress = null, CancellationToken cancel = default)
    {
        string albumFolder = AlbumFile.FolderOf(order.AlbumFolder);
        Album album = Existing(order, albumFolder, catalogue);
        return Run(order, album, (changed, words) => Save(changed, words, albumFolder, catalogue), progress, cancel);
    }

    /// <summary>
    /// Imports folders into an album that is open: files are taken in, and the result holds the changed album, which is not
    /// saved.
    /// </summary>
    /// <param name="order">What goes where.</param>
    /// <param name="album">The album as it is.</param>
    /// <param name="progress">Told the bytes that have been read, from several threads.</param>
    /// <param name="cancel">Ends the import; nothing has changed then.</param>
    /// <exception cref="AlbumException">Something stands in the way.</exception>
    /// <exception cref="OperationCanceledException">The import was cancelled.</exception>
    public static ImportResult Into(Album album, ImportOrder order, IProgress<ImportProgress>? progress, CancellationToken cancel) =>
        Run(order, album, (_, _) => { }, progress, cancel);

    private static void Save(Album album, string words, string albumFolder, ProcessorCatalogue catalogue)
    {
        if (File.Exists(AlbumFile.FileOf(albumFolder)))
        {
            AlbumSession.Change(albumFolder, catalogue, _ => album, words);
        }
        else
        {
            AlbumFile.Save(album, albumFolder, catalogue);
        }
    }

    private static ImportResult Run(
        ImportOrder order, Album album, Action<Album, string> save, IProgress<ImportProgress>? progress, CancellationToken cancel)
    {
        string albumFolder = AlbumFile.FolderOf(order.AlbumFolder);
        AlbumFaults faults = new();
        FolderScan scan = new(faults);
        List<PlannedSong> songs = new ImportPlanner(albumFolder, faults).Plan([.. scan.Songs(order.Folders), .. new FileScan(faults).Songs(order.Files)]);
        foreach (PlannedFile file in songs.SelectMany(song => song.Files))
        {
            cancel.ThrowIfCancellationRequested();
            CheckSound(file.Source, faults);
        }

        if (songs.Count == 0 && faults.Count == 0)
        {
            faults.Add(string.Empty, $"there are no sound files in {string.Join(", ", order.Folders.Concat(order.Files))}");
        }

        ThrowAny(order, faults);
        try
        {
            using FileIntake intake = new(albumFolder);
            return TakeIn(album, songs, scan, order, intake, save, progress, cancel);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new AlbumException($"{order.AlbumFolder}: nothing was imported: {fault.Message}", fault);
        }
    }

    private static ImportResult TakeIn(
        Album before,
        List<PlannedSong> songs,
        FolderScan scan,
        ImportOrder order,
        FileIntake intake,
        Action<Album, string> save,
        IProgress<ImportProgress>? progress,
        CancellationToken cancel)
    {
        string albumFolder = AlbumFile.FolderOf(order.AlbumFolder);
        AlbumFaults faults = new();
        List<PlannedFile> files = [.. songs.SelectMany(song => song.Files)];
        string[] digests = intake.Take(files, faults, progress, cancel);
        ThrowAny(order, faults);

        ImportMerge merge = new(albumFolder, faults);
        Album album = before;
        int first = 0;
        foreach (PlannedSong song in songs)
        {
            album = merge.Merge(album, song, digests[first..(first + song.Files.Count)]);
            first += song.Files.Count;
        }

        List<int> arrivals = Arrivals(files, digests, merge.Files, albumFolder, faults, cancel);
        ThrowAny(order, faults);
        arrivals.ForEach(index => intake.Place(files[index], index));
        save(album, $"import {string.Join(", ", songs.Select(song => song.Title))}");
        intake.Keep();
        return new ImportResult(album, [.. merge.Files], [.. scan.Skipped]);
    }

    // The copies that the album needs: not those it has already, under the same path and with the same sound.
    private static List<int> Arrivals(
        List<PlannedFile> files, string[] digests, List<ImportedFile> imported, string albumFolder, AlbumFaults faults, CancellationToken cancel)
    {
        List<int> arrivals = [];
        for (int i = 0; i < files.Count; i++)
        {
            string target = AlbumPath.OnDisk(albumFolder, files[i].AlbumPath);
            bool isNeeded = !files[i].IsInside && (files[i].StemName is null || imported[i].Change is ImportChange.Added or ImportChange.Restored);
            if (!isNeeded)
            {
                continue;
            }

            if (!File.Exists(target))
            {
                arrivals.Add(i);
            }
            else if (Digest.Of(target, null, _ => { }, cancel) != digests[i])
            {
                faults.Add(files[i].Source, $"'{target}' is another file of that name; rename one of them");
            }
        }

        return arrivals;
    }

    private static Album Existing(ImportOrder order, string albumFolder, ProcessorCatalogue catalogue)
    {
        if (File.Exists(AlbumFile.FileOf(albumFolder)))
        {
            return AlbumFile.Load(albumFolder, catalogue);
        }

        string title = order.Title ?? Path.GetFileName(Path.TrimEndingDirectorySeparator(albumFolder));
        return new Album(title, order.Artist, DeliveryTargets.Usual, ImmutableArray<Song>.Empty, []);
    }

    private static void CheckSound(string path, AlbumFaults faults)
    {
        try
        {
            using IAudioReader reader = AudioFile.Open(path);
        }
        catch (AudioFileException fault)
        {
            faults.Add(path, WithoutPath(fault.Message, path));
        }
    }

    // A reader's message starts with the file, which a fault names already.
    private static string WithoutPath(string message, string path) =>
        message.StartsWith(path, StringComparison.Ordinal) ? message[path.Length..].TrimStart(':', ' ') : message;

    private static void ThrowAny(ImportOrder order, AlbumFaults faults)
    {
        if (faults.Count > 0)
        {
            throw new AlbumException(order.AlbumFolder, faults, "'livestems check FOLDER' lists those of a folder");
        }
    }
}
