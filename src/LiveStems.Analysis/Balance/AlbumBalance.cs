using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Analysis.Measuring;
using LiveStems.Analysis.Spectra;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Balance;

/// <summary>The songs of an album held against each other.</summary>
/// <param name="Songs">The songs in album order.</param>
public sealed record AlbumBalance(IReadOnlyList<SongFigures> Songs)
{
    private const int BandsPerOctave = 3;

    /// <summary>The median of a figure over all songs that have it; NaN when none has.</summary>
    public double Median(Func<SongFigures, double> figure) => MedianOf(Songs.Select(figure));

    /// <summary>The median curve of the third octaves above the songs' loudness in dB.</summary>
    public IReadOnlyList<(double Hz, double Db)> MedianCurve =>
        [.. Songs.SelectMany(song => song.Curve).GroupBy(point => point.Hz).OrderBy(band => band.Key).Select(band => (band.Key, MedianOf(band.Select(point => point.Db))))];

    /// <summary>Measures songs by their places in the album. Masters are kept, so that only what changed is rendered again.</summary>
    /// <param name="album">The album.</param>
    /// <param name="albumFolder">Its folder.</param>
    /// <param name="places">Which songs.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="threads">Threads that share the songs; the figures do not depend on it.</param>
    /// <param name="progress">Told the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    /// <exception cref="Files.AudioFileException">A stem cannot be read.</exception>
    public static AlbumBalance Measure(
        Album album, string albumFolder, IReadOnlyList<int> places, ProcessorCatalogue catalogue, int threads, Action<double>? progress, CancellationToken cancellation)
    {
        SongFigures[] songs = new SongFigures[places.Count];
        RenderStore store = new(CacheFolder.For("renders"), albumFolder, catalogue);
        Lock counting = new();
        double done = 0;
        ParallelOptions how = new() { MaxDegreeOfParallelism = threads, CancellationToken = cancellation };
        try
        {
            System.Threading.Tasks.Parallel.For(0, songs.Length, how, i =>
            {
                songs[i] = Measure(album.Songs[places[i]], albumFolder, store, Step, cancellation);
            });
        }
        catch (AggregateException several)
        {
            System.Runtime.ExceptionServices.ExceptionDispatchInfo.Throw(several.InnerExceptions[0]);
        }

        CacheFolder.Prune(CacheFolder.For("renders"));
        return new AlbumBalance(songs);

        void Step()
        {
            lock (counting)
            {
                done++;
                progress?.Invoke(done / (3 * songs.Length));
            }
        }
    }

    private static SongFigures Measure(Song song, string albumFolder, RenderStore store, Action step, CancellationToken cancellation)
    {
        int rate;
        using (SongSources sources = SongSources.Open(song, albumFolder, PlanOptions.Offline))
        {
            rate = sources.SampleRate;
        }

        string master = store.Get(song with { SampleRate = rate }, cancellation);
        step();
        FileMeasurement measured = FileMeasurement.Measure(master, null, cancellation);
        step();
        LongTermSpectrum spectrum = FileSpectrum.Measure(master, BandsPerOctave, SpectrumChannel.Both, withCrest: false, null, cancellation).Spectrum;
        step();
        return new SongFigures(song.Title, spectrum.Seconds, measured.Loudness, measured.Timeline, spectrum);
    }

    private static double MedianOf(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Where(double.IsFinite).Order()];
        int half = sorted.Length / 2;
        return sorted.Length == 0 ? double.NaN : sorted.Length % 2 == 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
    }
}
