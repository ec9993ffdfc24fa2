using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Analysis.Delivery;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Headroom;

/// <summary>
/// Measures what each correction of a song buys at its limiter: the song with everything in against the song with that one
/// out, and the song with every correction out against the song with that one in.
/// </summary>
/// <remarks>
/// Every figure is of the real song bus over the real sum, to the rounding of single precision; all are made in one walk
/// through the song (<see cref="TrialRun"/>). What each stem adds to the sum is kept, and every figure under the digest of
/// what it was made of, so that after a change only the changed stem is rendered, and only what has never been measured is
/// measured. Rows of the other stems are handed out as they were and say so.
/// </remarks>
public sealed class HeadroomAccount
{
    private const int MostKeptFigures = 1000;
    private const int MostKeptCurves = 16;
    private const double ShareOfWalk = 0.9;

    // What a correction buys is rarely more than half a decibel.
    private static readonly int[] NearestDrives = [-1, 1];
    private static readonly IReadOnlyDictionary<int, HeadroomFigures> NoPoints = new Dictionary<int, HeadroomFigures>();

    private readonly Song song;
    private readonly long songFrames;
    private readonly Song bare;
    private readonly string albumFolder;
    private readonly ProcessorCatalogue catalogue;
    private readonly RenderStore store;
    private readonly ParallelOptions how;
    private readonly Action<double> report;
    private readonly TrialBook book;
    private readonly AccountMemory memory;
    private readonly Dictionary<string, IReadOnlyDictionary<int, HeadroomFigures>> measured = new(StringComparer.Ordinal);
    private IReadOnlyList<string> sumOf = [];

    private HeadroomAccount(Song song, long songFrames, string albumFolder, ProcessorCatalogue catalogue, string cache, ParallelOptions how, Action<double> report)
    {
        this.song = song;
        this.songFrames = songFrames;
        this.albumFolder = albumFolder;
        this.catalogue = catalogue;
        this.how = how;
        this.report = report;
        bare = HeadroomSubjects.WithoutCorrections(song);
        store = new RenderStore(cache, albumFolder, catalogue);
        book = new TrialBook(song, bare, albumFolder, catalogue);
        memory = new AccountMemory(Path.Combine(CacheFolder.For("accounts"), SettingsDigest.Of(Path.GetFullPath(albumFolder) + song.Title) + ".json"));
    }

    /// <summary>Measures a song.</summary>
    /// <param name="song">The song; its bus ends in a limiter that is switched on.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="wholly">True to measure rows again that only the rest of the song has moved under.</param>
    /// <param name="threads">Threads that share the work, at least 1; the figures do not depend on it.</param>
    /// <param name="progress">Told the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    /// <exception cref="DeliveryException">There is no limiter at the end of the bus.</exception>
    /// <exception cref="Files.AudioFileException">A stem can't be read.</exception>
    public static HeadroomReport Measure(
        Song song, string albumFolder, ProcessorCatalogue catalogue, bool wholly, int threads, IProgress<double>? progress, CancellationToken cancellation)
    {
        SongLimiter.Of(song, "keep a headroom account");
        (int sampleRate, long frames) = SizeOf(song, albumFolder);
        Song atRate = song with { SampleRate = sampleRate, Notes = [] };
        string cache = CacheFolder.For("renders");
        ParallelOptions how = new() { MaxDegreeOfParallelism = threads, CancellationToken = cancellation };
        HeadroomAccount account = new(atRate, frames, albumFolder, catalogue, cache, how, share => progress?.Report(share));
        HeadroomReport report = account.Measure(wholly);
        CacheFolder.Prune(cache);
        return report;
    }

    private static (int SampleRate, long Frames) SizeOf(Song song, string albumFolder)
    {
        using SongSources sources = SongSources.Open(song, albumFolder, PlanOptions.Offline);
        return (sources.SampleRate, sources.Frames);
    }

    private HeadroomReport Measure(bool wholly)
    {
        KeptAccount kept = memory.Load();
        Line[] lines = [.. HeadroomSubjects.Of(song, catalogue).Select(subject => new Line(subject, KeptRowOf(subject, kept, wholly), book))];
        Trial[] needed = [book.AllIn, book.AllOut, .. lines.Where(line => line.Row is null).SelectMany(line => new[] { line.LeftOut, line.AddedIn })];
        sumOf = kept.SumOf;
        Dictionary<string, HeadroomFigures> figures = Try(needed, kept);
        DriveCurve allCurve = CurveOf(book.AllIn, figures, kept);
        DriveCurve noneCurve = CurveOf(book.AllOut, figures, kept);
        Line[] anew = [.. lines.Where(line => line.Row is null)];
        Reach(allCurve, [.. anew.Select(line => figures[line.LeftOut.Digest])], noneCurve, [.. anew.Select(line => figures[line.AddedIn.Digest])]);
        foreach (Line line in anew)
        {
            HeadroomFigures leftOut = figures[line.LeftOut.Digest];
            HeadroomFigures addedIn = figures[line.AddedIn.Digest];
            line.Row = new KeptRow(
                NameOf(line.Subject), book.OwnState(line.Subject), book.AllIn.Digest, leftOut, addedIn, allCurve.LouderThan(leftOut), -noneCurve.LouderThan(addedIn));
        }

        memory.Save(new KeptAccount([.. lines.Select(line => line.Row!)], Newest(figures, kept.Figures, MostKeptFigures), Newest(
            new Dictionary<string, IReadOnlyDictionary<int, HeadroomFigures>> { [book.AllIn.Digest] = allCurve.Points, [book.AllOut.Digest] = noneCurve.Points }, kept.Curves, MostKeptCurves)) { SumOf = sumOf });
        report(1);
        return new HeadroomReport(song.Title, figures[book.AllIn.Digest], figures[book.AllOut.Digest], [.. lines.Select(line => new HeadroomRow(
            line.Subject, line.Row!.LeftOut, line.Row.AddedIn, line.Row.BoughtDb, line.Row.BoughtAloneDb, line.Row.SongState != book.AllIn.Digest))]);
    }

    private KeptRow? KeptRowOf(HeadroomSubject subject, KeptAccount kept, bool wholly) => kept.Rows.FirstOrDefault(row => row.Subject == NameOf(subject)) is { } row
        && (wholly ? row.SongState == book.AllIn.Digest : row.OwnState == book.OwnState(subject)) ? row : null;

    private Dictionary<string, HeadroomFigures> Try(IReadOnlyList<Trial> needed, KeptAccount kept)
    {
        Dictionary<string, HeadroomFigures> figures = new(StringComparer.Ordinal);
        List<Trial> missing = [];
        foreach (Trial trial in needed.DistinctBy(trial => trial.Digest))
        {
            if (kept.Figures.TryGetValue(trial.Digest, out HeadroomFigures? known))
            {
                figures.Add(trial.Digest, known);
            }
            else
            {
                missing.Add(trial.IsBase ? trial with { Drives = NearestDrives } : trial);
            }
        }

        if (missing.Count > 0)
        {
            foreach ((string digest, HeadroomFigures found) in Walk(missing, share => report(ShareOfWalk * share)))
            {
                figures.Add(digest, found);
            }
        }

        return figures;
    }

    private Dictionary<string, HeadroomFigures> Walk(IReadOnlyList<Trial> trials, Action<double> progress)
    {
        using TrialRun run = new(song, bare, songFrames, book, trials, sumOf, store, albumFolder, catalogue, how);
        Dictionary<string, HeadroomFigures> figures = run.Run(progress);
        sumOf = run.SumOf ?? sumOf;
        foreach ((string digest, IReadOnlyDictionary<int, HeadroomFigures> points) in run.Points)
        {
            measured[digest] = points;
        }

        return figures;
    }

    private DriveCurve CurveOf(Trial trial, Dictionary<string, HeadroomFigures> figures, KeptAccount kept) => new(
        trial.Bus.Slots[^1],
        () => BeforeLimiter(trial),
        figures[trial.Digest],
        (measured.GetValueOrDefault(trial.Digest) ?? NoPoints).UnionBy(kept.Curves.GetValueOrDefault(trial.Digest) ?? NoPoints, point => point.Key).ToDictionary(),
        songFrames,
        catalogue,
        how.CancellationToken);

    // Hardly ever needed: the nearest points of a curve are measured as its song is walked through.
    private string BeforeLimiter(Trial trial)
    {
        lock (measured)
        {
            string name = TrialRun.NameBeforeLimiter(trial);
            if (store.Find(name) is null)
            {
                Walk([trial with { KeepsSound = true }], _ => { });
            }

            return store.Find(name)!;
        }
    }

    // Each curve in both directions is work of its own, since every point decides whether the next is needed.
    private void Reach(DriveCurve allCurve, HeadroomFigures[] leftOut, DriveCurve noneCurve, HeadroomFigures[] addedIn)
    {
        (DriveCurve Curve, HeadroomFigures? Farthest)[] ends =
        [
            (allCurve, leftOut.MaxBy(figures => figures.MeanReductionDb)),
            (noneCurve, addedIn.MaxBy(figures => figures.MeanReductionDb)),
            (allCurve, leftOut.MinBy(figures => figures.MeanReductionDb)),
            (noneCurve, addedIn.MinBy(figures => figures.MeanReductionDb)),
        ];
        System.Threading.Tasks.Parallel.ForEach(ends.Where(end => end.Farthest is not null), how, end => end.Curve.Reach(end.Farthest!));
    }

    private static Dictionary<string, TValue> Newest<TValue>(IReadOnlyDictionary<string, TValue> used, IReadOnlyDictionary<string, TValue> before, int most) =>
        used.Concat(before.Where(each => !used.ContainsKey(each.Key))).Take(Math.Max(most, used.Count)).ToDictionary();

    private string NameOf(HeadroomSubject subject) =>
        $"{subject.Kind}/{(subject.Stem < 0 ? "bus" : song.Stems[subject.Stem].Name)}/{subject.Parallel}/{subject.Slot}";

    private sealed class Line(HeadroomSubject subject, KeptRow? kept, TrialBook book)
    {
        private readonly Lazy<Trial> leftOut = new(() => book.LeftOut(subject));
        private readonly Lazy<Trial> addedIn = new(() => book.AddedIn(subject));

        public HeadroomSubject Subject => subject;

        public KeptRow? Row { get; set; } = kept;

        public Trial LeftOut => leftOut.Value;

        public Trial AddedIn => addedIn.Value;
    }
}
