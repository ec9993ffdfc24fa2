using LiveStems.Albums.Model;
using LiveStems.Engine.Offline;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Delivery;

/// <summary>
/// Finds the limiter gain with which a song's master meets its target. The song is rendered once up to its limiter; the
/// limiter alone is then run and measured until the loudness fits.
/// </summary>
public static class TargetLoudness
{
    /// <summary>How close to the target it stops, in LU.</summary>
    public const double ToleranceLu = 0.02;

    /// <summary>
    /// How far below the target's ceiling the limiter's is set, in dB: what its output may pass its ceiling by on any
    /// signal, so that no meter finds the master above the target.
    /// </summary>
    public const double CeilingMarginDb = 0.1;

    /// <summary>
    /// The song with its limiter set just below the target's ceiling and to the gain that gives the target loudness or, where it asks for
    /// more, leaves the least peak-to-loudness ratio.
    /// </summary>
    /// <param name="song">The song; its bus must end in a limiter that is switched on.</param>
    /// <param name="targets">What to meet; without a loudness or a ratio only the ceiling is set.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="progress">Told the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    /// <param name="mostReductionDb">Deepest reduction the limiter may need for it, in dB; null for any.</param>
    /// <exception cref="DeliveryException">There is no limiter at the end of the bus, or the target lies out of its reach.</exception>
    /// <exception cref="Files.AudioFileException">A stem cannot be read.</exception>
    public static Song Meet(
        Song song,
        DeliveryTargets targets,
        string albumFolder,
        ProcessorCatalogue catalogue,
        IProgress<double>? progress,
        CancellationToken cancellation,
        double? mostReductionDb = null)
    {
        ChainSlot limiter = SongLimiter.Of(song, "meet a loudness target");
        ChainSlot atCeiling = limiter with { Parameters = limiter.Parameters.SetItem(SongLimiter.CeilingId, targets.CeilingDbtp - CeilingMarginDb) };
        if (targets.IntegratedLufs is null && targets.LeastPeakToLoudnessLu is null)
        {
            return WithLimiter(song, atCeiling);
        }

        string folder = Directory.CreateTempSubdirectory("livestems-").FullName;
        try
        {
            string path = Path.Combine(folder, "before the limiter.wav");
            RenderUpToLimiter(song, albumFolder, catalogue, path, progress, cancellation);
            double gain = new TargetSearch(song.Title, new DrivenLimiter(atCeiling, path, catalogue, cancellation)).Find(targets, mostReductionDb);
            return WithLimiter(song, atCeiling with { Parameters = atCeiling.Parameters.SetItem(SongLimiter.GainId, gain) });
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static Song WithLimiter(Song song, ChainSlot limiter) =>
        song with { Bus = song.Bus with { Slots = song.Bus.Slots.SetItem(song.Bus.Slots.Length - 1, limiter) } };

    private static void RenderUpToLimiter(
        Song song, string albumFolder, ProcessorCatalogue catalogue, string path, IProgress<double>? progress, CancellationToken cancellation)
    {
        Song before = song with { Bus = song.Bus with { Slots = song.Bus.Slots.RemoveAt(song.Bus.Slots.Length - 1) } };
        using SongSources sources = SongSources.Open(before, albumFolder, PlanOptions.Offline);
        SongPlan plan = SongCompiler.Compile(before, sources, catalogue, PlanOptions.Offline);
        using WavWriter writer = new(path, new WavFormat(sources.SampleRate, 32, IsFloat: true));
        ShareReporter? reporter = progress is null ? null : new ShareReporter(progress);
        OfflineRenderer.Render(plan, new FileSink(writer), RenderOptions.Default, reporter, cancellation);
        writer.Complete();
    }
}
