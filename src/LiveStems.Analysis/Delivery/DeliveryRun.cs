using LiveStems.Albums.Model;
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
        DeliveryFolder folder = DeliveryFolder.Open(root, signature, order.Date);
        DeliveryRun run = new(album, albumFolder, catalogue, order, folder, progress, cancellation);
        ParallelOptions how = new() { MaxDegreeOfParallelism = threads, CancellationToken = cancellation };
        try
        {
            System.Threading.Tasks.Parallel.ForEach(order.Songs, how, run.DeliverFit);
        }
        catch (AggregateException failures)
        {
            throw failures.InnerExceptions[0];
        }

        IReadOnlyList<(string, string)> papers = order.HasContinuous ? run.DeliverContinuous() : [];
        DeliveryReport report = new(folder.Path, folder.Number, run.InOrder(), run.nulls) { Papers = papers, Remarks = [.. SongFitness.Remarks(album, albumFolder, order.Songs)] };
        DeliveryManifest.Write(album, report, folder.Date);
        report = report with { Remarks = [.. report.Remarks, .. run.Note(report)] };
        folder.Close();
        CacheFolder.Prune(CacheFolder.For("renders"));
        return report;
    }

    // What the files of a song say or hold beside what it sounds like.
    private static string Told(Song song) => $"{song.Title}|{song.Isrc}|{Albums.History.EdgeWords.Of(song.Edges)}";

    private IEnumerable<string> Note(DeliveryReport report)
    {
        try
        {
            DeliveryLog.Add(album, albumFolder, report.Folder, report.Number, catalogue);
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
        string sheet = CueSheet.Write(album, songs, places, rate, $"{title}{format.Extension}", folder.Date.Year);
        double ceiling = songs.Max(song => (song.Targets ?? album.Targets).CeilingDbtp);
        Deliver(name, DeliveredKind.Continuous, -1, format.Id, album.Title, () => Kept(whole, rate), format, ceiling, whole.CeilingAdvice);
        byte[] bytes = System.Text.Encoding.UTF8.GetBytes(sheet);
        string path = Path.Combine(folder.Path, "continuous", title + ".cue");
        File.WriteAllBytes(path + ".part", bytes);
        File.Move(path + ".part", path, overwrite: true);
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
            throw new DeliveryException($"'{song.Title}': {fault.PassedBy[0]}; nothing of it was delivered: put it right, or switch it off in the album and deliver again");
        }
    }

    private void DeliverFit(int index) => Whole(album.Songs[index], () => DeliverSong(index, album.Songs[index]));

    private bool DeliverSong(int index, Song song)
    {
        SongDelivery sounds = new(song, albumFolder, catalogue, cancellation);
        double ceiling = (song.Targets ?? album.Targets).CeilingDbtp;
        foreach (DeliveryFormat format in order.Formats)
        {
            string name = names.Master(index, format);
            Deliver(name, DeliveredKind.Master, index, format.Id, song.Title, () => sounds.OnAlbum(sounds.Master(format.SampleRate)), format, ceiling);
        }

        foreach (Alternate alternate in order.Alternates)
        {
            DeliveryFormat format = order.Formats[0];
            string name = names.Alternate(index, alternate);
            Deliver(
                name, DeliveredKind.Alternate, index, alternate.Id, $"{song.Title} ({alternate.Name})",
                () => sounds.OnAlbum(sounds.Alternate(alternate, order.IsLinked, format.SampleRate)), format, order.IsLinked ? null : ceiling);
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
            throw new DeliveryException($"'{song.Title}': the treated stems miss the song bus by {apart:0.0} dBFS; nothing of them was delivered");
        }

        lock (counting)
        {
            nulls[song.Title] = apart;
        }

        DeliveryFormat format = DeliveryFormat.Find("float");
        for (int i = 0; i < song.Stems.Length; i++)
        {
            int stem = i;
            string name = names.Stem(index, i, format);
            Deliver(name, DeliveredKind.TreatedStem, index, song.Stems[i].Name, $"{song.Title}, {song.Stems[i].Name}", () => sounds.TreatedStem(stem), format, null);
        }
    }

    private void Deliver(string name, DeliveredKind kind, int song, string variant, string title, Func<string> make, DeliveryFormat format, double? ceilingDbtp, string? ceilingAdvice = null)
    {
        if (!folder.Files.Any(file => file.Name == name))
        {
            folder.Add(Write(name, kind, song, variant, title, make(), format, ceilingDbtp, ceilingAdvice));
        }

        lock (counting)
        {
            filesDone++;
            progress?.Report((double)filesDone / filesInAll);
        }
    }

    private DeliveredFile Write(string name, DeliveredKind kind, int song, string variant, string title, string reference, DeliveryFormat format, double? ceilingDbtp, string? ceilingAdvice)
    {
        string path = Path.Combine(folder.Path, name);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        string beside = Path.Combine(Path.GetDirectoryName(path)!, $".{Path.GetFileNameWithoutExtension(path)}.unchecked{format.Extension}");
        try
        {
            Encode(beside, song, kind, title, reference, format);
            FileGate.Expectation expected = new(reference, format, ceilingDbtp);
            FileGate.Reading reading = FileGate.Check(beside, name, ceilingAdvice is null ? expected : expected with { CeilingAdvice = ceilingAdvice }, cancellation);
            File.Move(beside, path, overwrite: true);
            return new DeliveredFile(
                name, kind, song < 0 ? album.Title : album.Songs[song].Title, variant, reading.Sha256, reading.Bytes, reading.Info.SampleRate, reading.Info.Frames, format.Bits,
                reading.Loudness, reading.PreciseTruePeakDbtp, reading.Notes);
        }
        finally
        {
            File.Delete(beside);
        }
    }

    private void Encode(string path, int song, DeliveredKind kind, string title, string reference, DeliveryFormat format)
    {
        using StoredSound sound = new(reference, FramesAtOnce);
        WavFormat form = new(sound.SampleRate, format.Bits, format.IsFloat);
        FileNotes notes = Notes(song, kind, title, form);
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
            throw new DeliveryException($"{title}: {writer.ClippedSamples} samples lie outside {format.Bits} bits; lower the limiter's ceiling, or ask for floats");
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
    }

    private FileNotes Notes(int song, DeliveredKind kind, string title, WavFormat form)
    {
        // The code belongs to the recording: an alternate is another one, and a stem none.
        string isrc = kind == DeliveredKind.Master ? album.Songs[song].Isrc : string.Empty;
        string date = folder.Date.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);
        BroadcastExtension broadcast = new(
            $"{album.Artist}: {title}{(isrc.Length > 0 ? $", ISRC {isrc}" : string.Empty)}", order.Originator, song < 0 ? $"{folder.Number}" : $"{folder.Number}-{song + 1:00}", folder.Date.ToDateTime(TimeOnly.MinValue),
            BroadcastExtension.LinearHistory(form, "rendered from stems; LiveStems"));
        return new FileNotes(broadcast, new InfoTags(title, album.Artist, album.Title, song < 0 ? null : song + 1, date, isrc, Software));
    }

    private DeliveredFile[] InOrder() =>
        [.. folder.Files.OrderBy(file => file.Kind == DeliveredKind.Continuous).ThenBy(file => order.Songs.ToList().FindIndex(song => album.Songs[song].Title == file.Song)).ThenBy(file => file.Kind).ThenBy(file => file.Name, StringComparer.Ordinal)];
}
