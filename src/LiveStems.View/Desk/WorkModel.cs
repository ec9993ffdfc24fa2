using LiveStems.Albums.History;
using LiveStems.Albums.Import;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Delivery;
using LiveStems.Analysis.Headroom;
using LiveStems.Analysis.Intake;
using LiveStems.Analysis.Papers;
using LiveStems.Engine.Offline;

namespace LiveStems.View.Desk;

/// <summary>What takes more than a moment and is done in the background: check, account, meeting the target, delivery, import.</summary>
public sealed class WorkModel
{
    /// <summary>Name of the file in the album's folder that takes the questions to the mix engineer.</summary>
    public const string QuestionsName = "Questions.txt";

    /// <summary>The kind of the job that imports; of those that wait behind it a number follows.</summary>
    public const string ImportKind = "import";

    private readonly AlbumDesk desk;

    internal WorkModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>What the intake check of the album found; null before it ran.</summary>
    public IntakeReport? Intake { get; private set; }

    /// <summary>
    /// The headroom account of the song that is shown; null before it was kept, and while the song has other stems than then:
    /// what it says of a stem goes by the stem's place.
    /// </summary>
    public HeadroomReport? ShownAccount => Kept?.Report;

    /// <summary>True when the song that is shown sounds other than when <see cref="ShownAccount"/> was kept.</summary>
    public bool IsAccountOld => Kept is { } kept && !alike.Are(kept.Measured, desk.Song);

    private (Song Measured, HeadroomReport Report)? Kept =>
        accounts.TryGetValue(desk.Song.Title, out (Song Measured, HeadroomReport Report) kept) && HaveSameStems(kept.Measured, desk.Song) ? kept : null;

    private readonly AlikeOnce alike = new(SoundAlike.Songs);
    private readonly Dictionary<string, (Song Measured, HeadroomReport Report)> accounts = new(StringComparer.Ordinal);

    private static bool HaveSameStems(Song one, Song other)
    {
        if (one.Stems.Length != other.Stems.Length)
        {
            return false;
        }

        for (int i = 0; i < one.Stems.Length; i++)
        {
            if (one.Stems[i].Name != other.Stems[i].Name)
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Checks what arrived, the whole album.</summary>
    public DeskJob Check()
    {
        IReadOnlyList<IntakeSong> songs = IntakeSongs.Of(desk.Album, desk.Folder);
        return desk.Jobs.Start(
            "check",
            "checking the stems",
            (progress, cancellation) => IntakeCheck.Run(songs, (_, share) => progress.Report(share), cancellation),
            report =>
            {
                Intake = report;
                desk.Say(report.HasStop ? MessageKind.Trouble : MessageKind.Remark, $"checked: {report.Findings.Count} findings");
            });
    }

    /// <summary>Writes the questions to the mix engineer beside the album. Null, or what is wrong.</summary>
    public string? WriteQuestions(IntakeReport report)
    {
        string path = Path.Combine(desk.Folder, QuestionsName);
        try
        {
            File.WriteAllLines(path, IntakeLetter.Lines(report, desk.Album));
            desk.Say(MessageKind.Remark, $"the questions stand in {path}");
            return null;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return desk.Refuse(fault.Message);
        }
    }

    /// <summary>Keeps the headroom account of the song that is shown.</summary>
    /// <param name="wholly">True to measure again what only the rest of the song has moved under.</param>
    public DeskJob Account(bool wholly = false)
    {
        Song song = desk.Song;
        string folder = desk.Folder;
        return desk.Jobs.Start(
            "account",
            $"headroom account of {song.Title}",
            (progress, cancellation) => HeadroomAccount.Measure(song, folder, desk.Catalogue, wholly, 1, progress, cancellation),
            report => accounts[report.Song] = (song, report));
    }

    /// <summary>Sets the limiter of the song that is shown so that its master meets the target; can be undone.</summary>
    public DeskJob MeetTarget()
    {
        Album before = desk.Album;
        Song song = desk.Song;
        int index = desk.SongIndex;
        string folder = desk.Folder;
        double? most = desk.Targets.MostReductionDb;
        DeliveryTargets targets = song.Targets ?? desk.Album.Targets;
        return desk.Jobs.Start(
            TargetsModel.JobKind,
            $"fitting {song.Title} to its target",
            (progress, cancellation) => TargetLoudness.Meet(song, targets, folder, desk.Catalogue, progress, cancellation, most),
            fitted => desk.Edit(album => TargetsModel.WithLimiterOf(album, SongPlaces.After(before, album)[index], fitted), words: $"{song.Title}, limiter to the target"));
    }

    /// <summary>The last delivery; null before there was one.</summary>
    public DeliveryReport? Delivered { get; private set; }

    /// <summary>Makes a delivery into a numbered folder; called off and begun again, it goes on where it was.</summary>
    /// <param name="root">Where deliveries stand.</param>
    /// <param name="order">What is delivered.</param>
    public DeskJob Deliver(string root, DeliveryOrder order)
    {
        Album album = desk.Album;
        string folder = desk.Folder;
        return desk.Jobs.Start(
            "delivery",
            $"delivering {order.Songs.Count} {(order.Songs.Count == 1 ? "song" : "songs")}",
            (progress, cancellation) => DeliveryRun.Deliver(album, folder, desk.Catalogue, order, root, 1, progress, cancellation),
            report =>
            {
                Delivered = report;
                desk.Say(MessageKind.Remark, $"{report.Files.Count} files stand in {report.Folder}");
            });
    }

    /// <summary>Where the papers were written last; null before.</summary>
    public string? Papers { get; private set; }

    /// <summary>Writes the papers of the album as one HTML file, replacing one that stands there.</summary>
    /// <param name="path">The file; its name ends in .html.</param>
    /// <param name="scope">What is told beside the measurements.</param>
    /// <returns>Null when begun, or one line that says why not.</returns>
    public string? WritePapers(string path, PaperScope scope)
    {
        if (!AlbumPaper.IsName(path))
        {
            return desk.Refuse($"the papers are HTML: give them a name that ends in .html, not '{Path.GetFileName(path)}'");
        }

        Album album = desk.Album;
        string folder = desk.Folder;
        DateOnly today = DateOnly.FromDateTime(DateTime.Today);
        desk.Jobs.Start(
            "papers",
            "writing the papers",
            (progress, cancellation) =>
            {
                AlbumPaper.Save(path, PaperGathering.Gather(album, folder, desk.Catalogue, today, scope, 1, (_, share) => progress.Report(share), cancellation));
                return path;
            },
            written =>
            {
                Papers = written;
                desk.Say(MessageKind.Remark, $"the papers stand in {written}");
            });
        return null;
    }

    /// <summary>
    /// Brings folders of stems into the album as songs, or new stems into songs of the same name; can be undone. What came in
    /// is checked at once.
    /// </summary>
    /// <param name="folders">Folders with the sound files of a song, or with such folders.</param>
    /// <param name="files">Sound files that come in by themselves, as stems of the songs called after their folders.</param>
    public DeskJob Import(IReadOnlyList<string> folders, IReadOnlyList<string>? files = null)
    {
        Album before = desk.Album;
        ImportOrder order = new(desk.Folder, folders) { Files = files ?? [] };

        // One that waits or runs goes on: what is dropped next comes after it.
        string kind = ImportKind;
        for (int number = 2; desk.Jobs.Open(kind) is not null; number++)
        {
            kind = $"{ImportKind} {number}";
        }

        return desk.Jobs.Start(
            kind,
            $"importing {string.Join(", ", order.Folders.Concat(order.Files).Select(path => Path.GetFileName(Path.TrimEndingDirectorySeparator(path))))}",
            (progress, cancellation) => AlbumImport.Into(before, order, new ShareOfBytes(progress), cancellation),
            result => TakeImported(before, result));
    }

    // The album may have been changed meanwhile: only what the import did is taken over.
    private void TakeImported(Album before, ImportResult result)
    {
        ImportedFile[] brought = [.. result.Files.Where(file => file.Change != ImportChange.Unchanged)];
        string songs = string.Join(", ", brought.Select(file => file.Song).Distinct());
        if (desk.Edit(album => LateImport.Onto(album, before, result.Album), words: $"import {songs}") is not null)
        {
            return;
        }

        string left = result.Skipped.Length > 0 ? $", left {result.Skipped.Length} out: {result.Skipped[0].Path}: {result.Skipped[0].Reason}" : string.Empty;
        desk.Say(MessageKind.Remark, brought.Length > 0
            ? $"imported {Files(brought.Length)} into {songs}{left}"
            : $"nothing new: {Files(result.Files.Length)} in the album already{left}");
        _ = Check();

        static string Files(int count) => count == 1 ? "1 file" : $"{count} files";
    }

    private sealed class ShareOfBytes(IProgress<double> whole) : IProgress<ImportProgress>
    {
        public void Report(ImportProgress value) => whole.Report((double)value.BytesDone / Math.Max(1, value.BytesTotal));
    }
}
