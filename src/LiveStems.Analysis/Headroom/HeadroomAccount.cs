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
/// Every line is a run of the real song bus over the real sum. What stems add to the sum is kept, so that after a change
/// only the changed stem is rendered and measured again; rows of the other stems are then handed out as they were and say so.
/// </remarks>
public sealed class HeadroomAccount
{
    private readonly Song song;
    private readonly Song bare;
    private readonly string albumFolder;
    private readonly ProcessorCatalogue catalogue;
    private readonly RenderStore store;
    private readonly ParallelOptions how;
    private readonly Action<double> report;
    private readonly Lock counting = new();
    private double done;
    private double toDo = 1;

    private HeadroomAccount(Song song, string albumFolder, ProcessorCatalogue catalogue, string cache, ParallelOptions how, Action<double> report)
    {
        this.song = song;
        this.albumFolder = albumFolder;
        this.catalogue = catalogue;
        this.how = how;
        this.report = report;
        bare = HeadroomSubjects.WithoutCorrections(song);
        store = new RenderStore(cache, albumFolder, catalogue);
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
        Song atRate = song with { SampleRate = RateOf(song, albumFolder), Notes = [] };
        string cache = CacheFolder.For("renders");
        ParallelOptions how = new() { MaxDegreeOfParallelism = threads, CancellationToken = cancellation };
        HeadroomAccount account = new(atRate, albumFolder, catalogue, cache, how, share => progress?.Report(share));
        HeadroomReport report = account.Measure(wholly);
        CacheFolder.Prune(cache);
        return report;
    }

    private static int RateOf(Song song, string albumFolder)
    {
        using SongSources sources = SongSources.Open(song, albumFolder, PlanOptions.Offline);
        return sources.SampleRate;
    }

    private HeadroomReport Measure(bool wholly)
    {
        IReadOnlyList<HeadroomSubject> subjects = HeadroomSubjects.Of(song, catalogue);
        string songState = SettingsDigest.Of(song, albumFolder, catalogue);
        AccountMemory memory = new(Path.Combine(CacheFolder.For("accounts"), SettingsDigest.Of(Path.GetFullPath(albumFolder) + song.Title) + ".json"));
        Dictionary<string, KeptRow> kept = memory.Load();
        KeptRow?[] rows = new KeptRow?[subjects.Count];
        for (int i = 0; i < rows.Length; i++)
        {
            rows[i] = kept.TryGetValue(NameOf(subjects[i]), out KeptRow? row)
                && (wholly ? row.SongState == songState : row.OwnState == OwnState(subjects[i])) ? row : null;
        }

        toDo = 2 * song.Stems.Length + 4 + 2 * rows.Count(row => row is null);
        StemRenders all = StemRenders.Make(store, song, how, Step);
        StemRenders none = StemRenders.Make(store, bare, how, Step);
        (HeadroomFigures allIn, DriveCurve allCurve) = Base(all, song);
        (HeadroomFigures allOut, DriveCurve noneCurve) = Base(none, bare);
        System.Threading.Tasks.Parallel.For(0, rows.Length, how, i =>
        {
            if (rows[i] is null)
            {
                rows[i] = MeasureRow(subjects[i], songState, all, none, allCurve, noneCurve);
            }
        });

        memory.Save(rows!);
        return new HeadroomReport(song.Title, allIn, allOut, [.. rows.Select((row, i) => new HeadroomRow(
            subjects[i], row!.LeftOut, row.AddedIn, row.BoughtDb, row.BoughtAloneDb, row.SongState != songState))]);
    }

    private (HeadroomFigures Figures, DriveCurve Curve) Base(StemRenders renders, Song state)
    {
        HeadroomFigures? figures = null;
        string name = SettingsDigest.Of("before the limiter" + SettingsDigest.Of(state, albumFolder, catalogue));
        string path = store.Get(name, state.SampleRate!.Value, sink => figures = renders.Try(state, -1, catalogue, sink, null, how.CancellationToken));
        figures ??= renders.Try(state, -1, catalogue, null, null, how.CancellationToken);
        Step();
        Step();
        return (figures, new DriveCurve(state.Bus.Slots[^1], path, figures, catalogue, how.CancellationToken));
    }

    private KeptRow MeasureRow(HeadroomSubject subject, string songState, StemRenders all, StemRenders none, DriveCurve allCurve, DriveCurve noneCurve)
    {
        bool isWhole = subject.Kind == HeadroomSubjectKind.WholeStem;
        HeadroomFigures leftOut = all.Try(subject.TakeOut(song), subject.Stem, catalogue, null, isWhole ? none.Stem(subject.Stem) : null, how.CancellationToken);
        Step();
        HeadroomFigures addedIn = none.Try(subject.PutIn(bare), subject.Stem, catalogue, null, isWhole ? all.Stem(subject.Stem) : null, how.CancellationToken);
        Step();
        return new KeptRow(
            NameOf(subject), OwnState(subject), songState, leftOut, addedIn, allCurve.LouderThan(leftOut), -noneCurve.LouderThan(addedIn));
    }

    private string OwnState(HeadroomSubject subject)
    {
        string bus = string.Join(' ', song.Bus.Slots.Select(slot => $"{slot}{string.Join(',', slot.Parameters)}"));
        return SettingsDigest.Of(bus + (subject.Stem < 0 ? string.Empty : SettingsDigest.Of(SongParts.Alone(song, subject.Stem), albumFolder, catalogue)));
    }

    private string NameOf(HeadroomSubject subject) =>
        $"{subject.Kind}/{(subject.Stem < 0 ? "bus" : song.Stems[subject.Stem].Name)}/{subject.Parallel}/{subject.Slot}";

    private void Step()
    {
        lock (counting)
        {
            done++;
            report(Math.Min(1, done / toDo));
        }
    }
}
