using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Analysis.Delivery;
using LiveStems.Analysis.Headroom;
using LiveStems.Dsp.Loudness;
using LiveStems.Engine.Offline;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Measuring;

/// <summary>A song as it leaves its bus, over time and as a whole, and what its stems bring to it.</summary>
/// <param name="Title">Its title.</param>
/// <param name="SampleRate">Frames per second.</param>
/// <param name="Seconds">Its length with what rings on.</param>
/// <param name="Loudness">Loudness, range and peaks of the master.</param>
/// <param name="Timeline">Loudness, PSR and correlation of the master over time.</param>
/// <param name="Stems">What each stem brings.</param>
public sealed record SongMeasurement(
    string Title, int SampleRate, double Seconds, LoudnessReport Loudness, LoudnessTimeline Timeline, IReadOnlyList<StemShare> Stems)
{
    private const int FramesAtOnce = 8192;
    private const double ShareOfMaster = 0.4;

    /// <summary>What the song is too short to be judged by, in words; nothing for most.</summary>
    public string? NotJudged => ShortMaterial.NotJudged(Seconds);

    /// <summary>Renders a song and measures it. Renders of stems are kept, so that the next time is quicker.</summary>
    /// <param name="song">The song.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="album">Takes the song's blocks, too; may be null.</param>
    /// <param name="progress">Told the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    /// <exception cref="Files.AudioFileException">A stem cannot be read.</exception>
    public static SongMeasurement Measure(
        Song song, string albumFolder, ProcessorCatalogue catalogue, AlbumLoudness? album, Action<double>? progress, CancellationToken cancellation)
    {
        PlanOptions options = PlanOptions.Offline;
        using SongSources sources = SongSources.Open(song, albumFolder, options);
        SongPlan plan = SongCompiler.Compile(song, sources, catalogue, options);
        TimelineSink sink = new(new LoudnessTimeline(sources.SampleRate, album));
        ShareReporter reporter = new(new Forwarded(share => progress?.Invoke(ShareOfMaster * share)));
        long frames = OfflineRenderer.Render(plan, sink, RenderOptions.Default, reporter, cancellation);
        double seconds = (double)frames / sources.SampleRate;
        LoudnessReport report = ShortMaterial.Judged(sink.Timeline.Finish(), seconds);
        Song atRate = song with { SampleRate = sources.SampleRate };
        IReadOnlyList<StemShare> shares = Shares(atRate, albumFolder, catalogue, share => progress?.Invoke(ShareOfMaster + (1 - ShareOfMaster) * share), cancellation);
        return new SongMeasurement(song.Title, sources.SampleRate, seconds, report, sink.Timeline, shares);
    }

    private static IReadOnlyList<StemShare> Shares(
        Song song, string albumFolder, ProcessorCatalogue catalogue, Action<double> progress, CancellationToken cancellation)
    {
        string cache = CacheFolder.For("renders");
        int done = 0;
        ParallelOptions how = new() { MaxDegreeOfParallelism = Environment.ProcessorCount, CancellationToken = cancellation };
        StemRenders renders = StemRenders.Make(
            new RenderStore(cache, albumFolder, catalogue), song, how, () => progress(0.8 * Interlocked.Increment(ref done) / song.Stems.Length));
        using StoredSound sum = new(renders.Sum, FramesAtOnce);
        StoredSound[] stems = [.. Enumerable.Range(0, song.Stems.Length).Select(stem => new StoredSound(renders.Stem(stem), FramesAtOnce))];
        try
        {
            StemShares shares = new(stems.Length, sum.SampleRate);
            float[][] sumSides = [sum.Left, sum.Right];
            float[][][] stemSides = [.. stems.Select(stem => new[] { stem.Left, stem.Right })];
            for (long frame = 0; frame < sum.Frames; frame += FramesAtOnce)
            {
                cancellation.ThrowIfCancellationRequested();
                int count = (int)Math.Min(FramesAtOnce, sum.Frames - frame);
                sum.Read(count);
                System.Threading.Tasks.Parallel.For(0, stems.Length, how, stem => stems[stem].Read(count));
                shares.Add(sumSides, stemSides, count);
            }

            progress(1);
            return shares.Finish([.. song.Stems.Select(stem => stem.Name)]);
        }
        finally
        {
            Array.ForEach(stems, stem => stem.Dispose());
            CacheFolder.Prune(cache);
        }
    }

    private sealed class TimelineSink(LoudnessTimeline timeline) : IRenderSink
    {
        public LoudnessTimeline Timeline { get; } = timeline;

        public void Write(ReadOnlySpan<float> left, ReadOnlySpan<float> right) => Timeline.Add(left, right);
    }

    private sealed class Forwarded(Action<double> report) : IProgress<double>
    {
        public void Report(double value) => report(value);
    }
}
