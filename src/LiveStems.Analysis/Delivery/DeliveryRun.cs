using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Caching;
using LiveStems.Engine.Offline;
using LiveStems.Files.Reading;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Delivery;

/// <summary>A delivery that is done.</summary>
/// <param name="Folder">Where its files are.</param>
/// <param name="Number">Its number, from 1.</param>
/// <param name="Files">Every file, in the order of the songs.</param>
/// <param name="StemSumNullDbfs">By song: highest difference between the sum of its treated stems and its bus input, in dBFS.</param>
public sealed record DeliveryReport(string Folder, int Number, IReadOnlyList<DeliveredFile> Files, IReadOnlyDictionary<string, double> StemSumNullDbfs)
{
    /// <summary>Files beside the sound, such as a cue sheet: path inside the delivery and SHA-256.</summary>
    public IReadOnlyList<(string Name, string Sha256)> Papers { get; init; } = [];

    /// <summary>What should be known of the delivery: songs without a code, stems whose rate was converted, processors that are out.</summary>
    public IReadOnlyList<string> Remarks { get; init; } = [];

    /// <summary>Path of the list of all files with their figures (<see cref="DeliveryManifest"/>).</summary>
    public string ManifestPath => Path.Combine(Folder, DeliveryManifest.ListName);
}

/// <summary>
/// Makes a delivery: songs side by side on all cores, every file read back and measured before it counts, a manifest with
/// checksums at the end. Killed at any moment and run again, it goes on where it was, and ends with the same bytes.
/// </summary>
public sealed class DeliveryRun
{
    // With a fixed number a delivery is the same bytes every time.
    private const ulong DitherSeed = 0x4C69_7665_5374_656D;
    private const double LargestNullDbfs = -120;
    private const int FramesAtOnce = 4096;
    private const string Software = "LiveStems";

    private readonly Album album;
    private readonly string albumFolder;
    private readonly ProcessorCatalogue catalogue;
    private readonly DeliveryOrder order;
    private readonly DeliveryFolder folder;
    private readonly IProgress<double>? progress;
    private readonly CancellationToken cancellation;
    private readonly Lock counting = new();
    private readonly Dictionary<string, double> nulls = [];
    private readonly DeliveryNames names;
    private readonly SongStanding standing;
    private readonly DateOnly[] dates;
    private readonly CacheShare cache = new();
    private readonly int filesInAll;
    private int filesDone;

    private DeliveryRun(
        Album album, string albumFolder, ProcessorCatalogue catalogue, DeliveryOrder order, DeliveryFolder folder, IProgress<double>? progress, CancellationToken cancellation)
    {
        this.album = album;
        this.albumFolder = albumFolder;
        this.catalogue = catalogue;
        this.order = order;
        this.folder = folder;
        this.progress = progress;
        this.cancellation = cancellation;
        names = new DeliveryNames(album, order, folder.Number, folder.Date);
        standing = new SongStanding(album, albumFolder, catalogue);
        dates = order.IsDateAsked ? [.. album.Songs.Select(_ => folder.Date)] : standing.Dates(DeliveryLog.List(albumFolder, catalogue), folder.Date);
        filesInAll = order.Songs.Sum(song => order.Formats.Count + order.Alternates.Count + (order.HasTreatedStems ? album.Songs[song].Stems.Length : 0)) + (order.HasContinuous ? 1 : 0);
    }

    /// <summary>Delivers.</summary>
    /// <param name="album">The album.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="order">What is delivered.</param>
    /// <param name="root">Where deliveries stand; a new folder is made inside, or one that was under way taken up.</param>
    /// <param name="threads">Threads that share the songs; never changes a byte.</param>
    /// <param name="progress">Told the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two blocks; what has passed stays, for the next run to go on from.</param>
    /// <exception cref="DeliveryException">Something can't be delivered as ordered, or a file did not pass the gate.</exception>
    /// <exception cref="Files.AudioFileException">A stem can't be read or a file not be written.</exception>
    public static DeliveryReport Deliver(
        Album album,
        string albumFolder,
        ProcessorCatalogue catalogue,
        DeliveryOrder order,
        string root,
        int threads,
        IProgress<double>? progress,
        CancellationToken cancellation)
    {
        SongFitness.Check(album, order.Songs, catalogue);
        string states = string.Join(' ', order.Songs.Select(song => SettingsDigest.Of(album.Songs[song], albumFolder, catalogue) + Told(album.Songs[song])));
        string signature = SettingsDigest.Of(order.Signature + album.Title + album.Artist + states);
        DeliveryNames.Check(album, order);
        OrderFitness.Check(album, albumFolder, order);
        using DeliveryFolder folder = DeliveryFolder.Open(root, signature, order.Date);
        DeliveryRun run = new(album, albumFolder, catalogue, order, folder, progress, cancellation);
        try
        {
            return run.DeliverAll(threads);
        }
        catch (DeliveryException)
        {
            folder.Discard();
            throw;
        }
    }

    private DeliveryReport DeliverAll(int threads)
    {
        ParallelOptions how = new() { MaxDegreeOfParallelism = threads, CancellationToken = cancellation };
        try
        {
            System.Threading.Tasks.Parallel.ForEach(order.Songs, how, DeliverFit);
        }
        catch (AggregateException failures)
        {
            throw failures.InnerExceptions.FirstOrDefault(fault => fault is DeliveryException) ?? failures.InnerExceptions[0];
        }

        IReadOnlyList<(string, string)> papers = order.HasContinuous ? DeliverContinuous() : [];
        DeliveryReport report = new(folder.FinishedPath, folder.Number, InOrder(), nulls) { Papers = papers, Remarks = [.. SongFitness.Remarks(album, albumFolder, order.Songs)] };
        DeliveryManifest.Write(folder.Path, album, report, folder.Date);
        report = report with { Remarks = [.. report.Remarks, .. Note(report), .. LeftUnderWay()] };
        folder.Close();
        CacheFolder.Prune(CacheFolder.For("renders"));
        return report;
    }

    private IEnumerable<string> LeftUnderWay() => folder.OthersUnderWay.Select(other =>
        $"{other}: was begun with another order or before the album was changed, and is not finished; it goes on when that is delivered again, or delete it");

    // What the files of a song say or hold beside what it sounds like.
    private static string Told(Song song) => $"{song.Title}|{song.Isrc}|{Albums.History.EdgeWords.Of(song.Edges)}";

    private IEnumerable<string> Note(DeliveryReport report)
    {
        try
        {
            DeliveryLog.Add(album, albumFolder, report.Folder, report.Number, catalogue, folder.Date);
            return [];
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return [$"delivered, but not noted in the album's folder, so that 'diff --deliveries' won't know it: {fault.Message}"];
        }
    }

    private IReadOnlyList<(string Name, string Sha256)> DeliverContinuous()
    {
        DeliveryFormat format = order.Formats[0];
        string title = SafeFileName.From(album.Title);
        string name = $"continuous/{title}{format.Extension}";
        ContinuousAlbum whole = new([.. order.Songs.Select(index =>
        {
            Song song = album.Songs[index];
            return (song.Title, Whole(song, () => new SongDelivery(song, albumFolder, catalogue, cancellation).Master(format.SampleRate)), song.Edges);
        })]);
        IReadOnlyList<PlacedSong> places = whole.Place(out int rate);
        Song[] songs = [.. order.Songs.Select(index => album.Songs[index])];
        string sheet = CueSheet.Write(album, songs, places, rate, $"{title}{format.Extension}", order.Songs.Max(index => dates[index]).Year);
        double ceiling = songs.Max(song => (song.Targets ?? album.Targets).CeilingDbtp);
        Deliver(new FileOrder(name, DeliveredKind.Continuous, -1, format.Id, album.Title, format, ceiling) { Make = () => Kept(whole, rate), CeilingAdvice = whole.CeilingAdvice });
        byte[] bytes = System.Text.Encoding.UTF8.GetBytes(sheet);
        string path = Path.Combine(folder.Path, "continuous", title + ".cue");
        SafeFile.Replace(path, bytes);
        return [($"continuous/{title}.cue", Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(bytes)))];
    }

    private string Kept(ContinuousAlbum whole, int rate)
    {
        RenderStore store = new(CacheFolder.For("renders"), albumFolder, catalogue);
        return store.Get(SettingsDigest.Of("continuous" + whole.Signature), rate, sink => whole.Write(sink, cancellation));
    }

    // Nothing that was set may be missing from what the client gets.
    private static T Whole<T>(Song song, Func<T> make)
    {
        try
        {
            return make();
        }
        catch (PassedByException fault)
        {
            throw new DeliveryException($"'{song.Title}': {fault.PassedBy[0]}; nothing was delivered: put it right, or switch it off in the album and deliver again");
        }
    }

    private void DeliverFit(int index)
    {
        DateTime begin = cache.Begin();
        try
        {
            Whole(album.Songs[index], () => DeliverSong(index, album.Songs[index]));
        }
        finally
        {
            cache.Done(begin);
        }
    }

    private bool DeliverSong(int index, Song song)
    {
        SongDelivery sounds = new(song, albumFolder, catalogue, cancellation);
        DeliveryTargets targets = song.Targets ?? album.Targets;
        foreach (DeliveryFormat format in order.Formats)
        {
            Deliver(new FileOrder(names.Master(index, format), DeliveredKind.Master, index, format.Id, song.Title, format, targets.CeilingDbtp)
            {
                Make = () => sounds.OnAlbum(sounds.Master(format.SampleRate)),
                Targets = targets,
            });
        }

        int? rate = order.Formats[0].SampleRate;
        if (order.HasContinuous)
        {
            cache.Keep(sounds.Master(rate));
        }

        foreach (Alternate alternate in order.Alternates)
        {
            Deliver(new FileOrder(
                names.Alternate(index, alternate), DeliveredKind.Alternate, index, alternate.Id, $"{song.Title} ({alternate.Name})", order.Formats[0], order.IsLinked ? null : targets.CeilingDbtp)
            {
                Make = () => sounds.OnAlbum(sounds.Alternate(alternate, order.IsLinked, rate)),
                Main = () => sounds.OnAlbum(sounds.Master(rate)),
            });
        }

        if (order.HasTreatedStems)
        {
            DeliverStems(index, song, sounds);
        }

        return true;
    }

    private void DeliverStems(int index, Song song, SongDelivery sounds)
    {
        double apart = sounds.NullDbfs();
        if (apart > LargestNullDbfs)
        {
            throw new DeliveryException($"'{song.Title}': the treated stems miss the song bus by {apart:0.0} dBFS; nothing was delivered");
        }

        lock (counting)
        {
            nulls[song.Title] = apart;
        }

        DeliveryFormat format = DeliveryFormat.Find("float");
        for (int i = 0; i < song.Stems.Length; i++)
        {
            int stem = i;
            Deliver(new FileOrder(names.Stem(index, i, format), DeliveredKind.TreatedStem, index, song.Stems[i].Name, $"{song.Title}, {song.Stems[i].Name}", format, null)
            {
                Make = () => sounds.TreatedStem(stem),
            });
        }
    }

    private void Deliver(FileOrder file)
    {
        if (folder.Files.FirstOrDefault(passed => passed.Name == file.Name) is not { } noted || !IsStillThere(noted))
        {
            folder.Add(Write(file));
        }

        lock (counting)
        {
            filesDone++;
            progress?.Report((double)filesDone / filesInAll);
        }
    }

    // A power cut may have left less on the disk than the record says: the bytes decide.
    private bool IsStillThere(DeliveredFile file)
    {
        string path = Path.Combine(folder.Path, file.Name);
        return File.Exists(path) && new FileInfo(path).Length == file.Bytes && FileGate.Digest(path, cancellation) == file.Sha256;
    }

    private DeliveredFile Write(FileOrder file)
    {
        string reference = file.Make();
        string path = Path.Combine(folder.Path, file.Name);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        string beside = Path.Combine(Path.GetDirectoryName(path)!, $".{Path.GetFileNameWithoutExtension(path)}.unchecked{file.Format.Extension}");
        try
        {
            double loudness = Encode(beside, file, reference);
            FileGate.Expectation expected = new(reference, file.Format, file.CeilingDbtp) { IntegratedLufs = loudness, Targets = file.Targets };
            FileGate.Reading reading = FileGate.Check(beside, file.Name, file.CeilingAdvice is null ? expected : expected with { CeilingAdvice = file.CeilingAdvice }, cancellation);
            double? correlation = file.Main is null ? null : PhaseCheck.Check(beside, file.Name, file.Main(), cancellation);
            File.Move(beside, path, overwrite: true);
            return new DeliveredFile(
                file.Name, file.Kind, file.Song < 0 ? album.Title : album.Songs[file.Song].Title, file.Variant, reading.Sha256, reading.Bytes, reading.Info.SampleRate, reading.Info.Frames, file.Format.Bits,
                reading.Loudness, reading.PreciseTruePeakDbtp, reading.Notes)
            {
                CorrelationWithMaster = correlation,
            };
        }
        finally
        {
            File.Delete(beside);
        }
    }

    // Gives the loudness of what was written.
    private double Encode(string path, FileOrder file, string reference)
    {
        DeliveryFormat format = file.Format;
        using StoredSound sound = new(reference, FramesAtOnce);
        WavFormat form = new(sound.SampleRate, format.Bits, format.IsFloat);
        FileNotes notes = Notes(file.Song, file.Kind, file.Title, form);
        using ISoundWriter writer = format.IsFlac
            ? new FlacWriter(path, sound.SampleRate, format.Bits, notes.Info)
            : new WavWriter(path, form, notes);
        Action<Memory<float>, Memory<float>>? dither = format.DitherAt(sound.SampleRate, DitherSeed);
        Dsp.Loudness.ProgrammeMeter meter = new(sound.SampleRate);
        for (long left = sound.Frames; left > 0; left -= FramesAtOnce)
        {
            cancellation.ThrowIfCancellationRequested();
            int frames = (int)Math.Min(left, FramesAtOnce);
            sound.Read(frames);
            meter.Add(sound.Left.AsSpan(0, frames), sound.Right.AsSpan(0, frames));
            dither?.Invoke(sound.Left.AsMemory(0, frames), sound.Right.AsMemory(0, frames));
            writer.Write(sound.Left.AsSpan(0, frames), sound.Right.AsSpan(0, frames));
        }

        if (writer.ClippedSamples > 0)
        {
            throw new DeliveryException($"{file.Title}: {writer.ClippedSamples} samples lie outside {format.Bits} bits; nothing was delivered: lower the limiter's ceiling, or ask for floats");
        }

        Dsp.Loudness.LoudnessReport loudness = meter.Finish();
        writer.Complete(notes with
        {
            Broadcast = notes.Broadcast! with
            {
                IntegratedLufs = loudness.IntegratedLufs,
                LoudnessRangeLu = loudness.LoudnessRangeLu,
                TruePeakDbtp = loudness.TruePeakDbtp,
                MaximumMomentaryLufs = loudness.MaximumMomentaryLufs,
                MaximumShortTermLufs = loudness.MaximumShortTermLufs,
            },
        });
        return loudness.IntegratedLufs;
    }

    private FileNotes Notes(int song, DeliveredKind kind, string title, WavFormat form)
    {
        // The code belongs to the recording: an alternate is another one, and a stem none.
        string isrc = kind == DeliveredKind.Master ? album.Songs[song].Isrc : string.Empty;
        DateOnly day = song < 0 ? order.Songs.Max(index => dates[index]) : dates[song];
        string date = day.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);
        BroadcastExtension broadcast = new(
            $"{album.Artist}: {title}{(isrc.Length > 0 ? $", ISRC {isrc}" : string.Empty)}", order.Originator, standing.Reference(song), day.ToDateTime(TimeOnly.MinValue),
            BroadcastExtension.LinearHistory(form, "rendered from stems; LiveStems"));
        return new FileNotes(broadcast, new InfoTags(title, album.Artist, album.Title, song < 0 ? null : song + 1, date, isrc, Software));
    }

    private DeliveredFile[] InOrder() =>
        [.. folder.Files.OrderBy(file => file.Kind == DeliveredKind.Continuous).ThenBy(file => order.Songs.ToList().FindIndex(song => album.Songs[song].Title == file.Song)).ThenBy(file => file.Kind).ThenBy(file => file.Name, StringComparer.Ordinal)];
}
