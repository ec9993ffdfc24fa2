using LiveStems.Albums.Model;
using LiveStems.Analysis.Parallels;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.View.Desk;

/// <summary>What the checks of parallels against their stems found, as far as they were asked.</summary>
public sealed class ParallelChecks
{
    /// <summary>The kind of the job that checks a parallel.</summary>
    public const string JobKind = "parallel";

    private static readonly ParameterSpec Onset = new(
        "onsetDb", "Onsets", ParameterUnit.Decibels, 0.01, 24, 0.5, Taper.Linear, "How much higher the onsets of hits stand in the whole song, once that is no louder than without the parallel.");

    private readonly AlbumDesk desk;
    private readonly Dictionary<(string Song, string Stem, string Parallel), (ParallelCheckReport Report, Stem Checked)> reports = [];
    private readonly Dictionary<(string Song, string Stem, string Parallel), (BlendReport Report, Song Heard)> hits = [];

    internal ParallelChecks(AlbumDesk desk) => this.desk = desk;

    /// <summary>Counts up whenever anything was found.</summary>
    public long Revision { get; private set; }

    /// <summary>What was found of a parallel; null before it was checked.</summary>
    public ParallelCheckReport? Of(ParallelRow parallel) => Find(parallel)?.Report;

    /// <summary>True when the stem or the parallel has been changed since it was checked.</summary>
    public bool IsOld(ParallelRow parallel) => Find(parallel) is { } found && !SoundAlike.Stems(found.Checked, desk.Song.Stems[parallel.Place.Stem]);

    /// <summary>Listens to a parallel beside its stem: time, polarity, and where the pair sums to less than its parts.</summary>
    public DeskJob Check(ParallelRow parallel)
    {
        Song song = desk.Song;
        Stem stem = song.Stems[parallel.Place.Stem];
        string name = parallel.Name;
        string folder = desk.Folder;
        return desk.Jobs.Start(
            JobKind,
            $"checking {stem.Name}, {name}",
            (progress, cancellation) => ParallelCheck.Measure(song, stem.Name, name, folder, desk.Catalogue, progress, cancellation),
            report =>
            {
                reports[(song.Title, stem.Name, name)] = (report, stem);
                Revision++;
            });
    }

    /// <summary>What a parallel was found to do to the hits of its stem; null before that was measured, and after the song has changed.</summary>
    public BlendReport? HitsOf(ParallelRow parallel) =>
        hits.TryGetValue(Key(parallel), out (BlendReport Report, Song Heard) found) && SoundAlike.Songs(found.Heard, desk.Song) ? found.Report : null;

    /// <summary>Measures what a parallel does to hits, in the stem and in the song: in the loop, or where most hits are.</summary>
    public DeskJob MeasureHits(ParallelRow parallel) => Listen(parallel, "measuring hits", ParallelBlend.Measure, Keep);

    /// <summary>
    /// Blends a parallel so that the onsets of hits stand higher in the song by so many dB, once both are equally loud. It is
    /// this parallel that is blended, whatever is shown by then and wherever its song stands; none where it is gone.
    /// </summary>
    public DeskJob BlendTo(ParallelRow parallel, double onsetDb)
    {
        Album before = desk.Album;
        int index = desk.SongIndex;
        return Listen(
            parallel,
            "finding the blend",
            (song, stem, name, folder, catalogue, from, to, progress, cancellation) =>
                ParallelBlend.Meet(onsetDb, song, stem, name, folder, catalogue, from, to, progress, cancellation),
            (song, report) =>
            {
                string where = $"{song.Title}: {report.Stem}, {report.Parallel}";
                if (desk.Edit(album => FoundBlend.Set(album, before, index, report), words: $"{where}, blend found") is null)
                {
                    desk.Say(MessageKind.Remark, FormattableString.Invariant($"{where}: blended at {report.BlendDb:0.0} dB").Replace(" -", " −", StringComparison.Ordinal));
                    // Measured at the blend that was found.
                    Keep(FoundBlend.Set(song, report.Stem, report)!, report);
                }
            });
    }

    /// <summary>How much higher the onsets of hits stand in the song, once both are equally loud; another value finds the blend for it.</summary>
    public ValueField OnsetOf(ParallelRow parallel) => new(
        $"{parallel.Name} onsets",
        Onset,
        () => HitsOf(parallel)?.FairOnsetDb ?? 0,
        (onsetDb, _) =>
        {
            BlendTo(parallel, onsetDb);
            return null;
        });

    /// <summary>Brings a parallel onto its dry stem, as the check found. Null, or what is wrong.</summary>
    public string? Align(ParallelRow parallel) =>
        Of(parallel) is not { } report ? "check the parallel first: then it is known how it lies"
        : IsOld(parallel) ? "the stem has been changed since the check: check the parallel again"
        : report.IsAlike ? parallel.Align.Set(report.BestAlignSamples)
        : "the parallel is too unlike the dry stem to be aligned by it; its latency is made up for anyway";

    private DeskJob Listen(ParallelRow parallel, string words, HitMeasure measure, Action<Song, BlendReport> done)
    {
        Song song = desk.Song;
        string stem = song.Stems[parallel.Place.Stem].Name;
        string name = parallel.Name;
        string folder = desk.Folder;
        (double Start, double End)? loop = desk.Transport.Loop;
        return desk.Jobs.Start(
            JobKind,
            $"{words}: {stem}, {name}",
            (progress, cancellation) => measure(song, stem, name, folder, desk.Catalogue, loop?.Start, loop?.End, progress, cancellation),
            report => done(song, report));
    }

    private void Keep(Song heard, BlendReport report)
    {
        hits[(heard.Title, report.Stem, report.Parallel)] = (report, heard);
        Revision++;
    }

    private delegate BlendReport HitMeasure(
        Song song, string stem, string parallel, string folder, ProcessorCatalogue catalogue, double? from, double? to, IProgress<double>? progress, CancellationToken cancellation);

    private (string Song, string Stem, string Parallel) Key(ParallelRow parallel) =>
        (desk.Song.Title, desk.Song.Stems[parallel.Place.Stem].Name, parallel.Name);

    private (ParallelCheckReport Report, Stem Checked)? Find(ParallelRow parallel) =>
        reports.TryGetValue(Key(parallel), out (ParallelCheckReport, Stem) found) ? found : null;
}
