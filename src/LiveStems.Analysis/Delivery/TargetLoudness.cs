using LiveStems.Albums.Model;
using LiveStems.Dsp.Loudness;
using LiveStems.Engine.Offline;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Files.Reading;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

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

    private const int MostTrials = 14;
    private const int FramesAtOnce = 4096;

    /// <summary>
    /// The song with its limiter set just below the target's ceiling and to the gain that gives the target loudness.
    /// </summary>
    /// <param name="song">The song; its bus must end in a limiter that is switched on.</param>
    /// <param name="targets">What to meet; without a loudness only the ceiling is set.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="progress">Told the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    /// <exception cref="DeliveryException">There is no limiter at the end of the bus, or the target lies out of its reach.</exception>
    /// <exception cref="Files.AudioFileException">A stem cannot be read.</exception>
    public static Song Meet(
        Song song,
        DeliveryTargets targets,
        string albumFolder,
        ProcessorCatalogue catalogue,
        IProgress<double>? progress,
        CancellationToken cancellation)
    {
        ChainSlot limiter = SongLimiter.Of(song, "meet a loudness target");
        ChainSlot atCeiling = limiter with { Parameters = limiter.Parameters.SetItem(SongLimiter.CeilingId, targets.CeilingDbtp - CeilingMarginDb) };
        if (targets.IntegratedLufs is not { } wanted)
        {
            return WithLimiter(song, atCeiling);
        }

        string folder = Directory.CreateTempSubdirectory("livestems-").FullName;
        try
        {
            string path = Path.Combine(folder, "before the limiter.wav");
            int rate = RenderUpToLimiter(song, albumFolder, catalogue, path, progress, cancellation);
            double gain = FindGain(song.Title, atCeiling, catalogue, wanted, path, rate, cancellation);
            return WithLimiter(song, atCeiling with { Parameters = atCeiling.Parameters.SetItem(SongLimiter.GainId, gain) });
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static Song WithLimiter(Song song, ChainSlot limiter) =>
        song with { Bus = song.Bus with { Slots = song.Bus.Slots.SetItem(song.Bus.Slots.Length - 1, limiter) } };

    private static int RenderUpToLimiter(
        Song song, string albumFolder, ProcessorCatalogue catalogue, string path, IProgress<double>? progress, CancellationToken cancellation)
    {
        Song before = song with { Bus = song.Bus with { Slots = song.Bus.Slots.RemoveAt(song.Bus.Slots.Length - 1) } };
        using SongSources sources = SongSources.Open(before, albumFolder, PlanOptions.Offline);
        SongPlan plan = SongCompiler.Compile(before, sources, catalogue, PlanOptions.Offline);
        using WavWriter writer = new(path, new WavFormat(sources.SampleRate, 32, IsFloat: true));
        ShareReporter? reporter = progress is null ? null : new ShareReporter(progress);
        OfflineRenderer.Render(plan, new FileSink(writer), RenderOptions.Default, reporter, cancellation);
        writer.Complete();
        return sources.SampleRate;
    }

    private static double FindGain(
        string title, ChainSlot limiter, ProcessorCatalogue catalogue, double wanted, string path, int rate, CancellationToken cancellation)
    {
        Processor processor = catalogue.Create(SongLimiter.Id)!;
        ParameterSpec range = processor.Description.Parameters[processor.Description.IndexOf(SongLimiter.GainId)];
        double gain = range.Clamp(limiter.Parameters.GetValueOrDefault(SongLimiter.GainId, range.Default));
        double lastGain = gain;
        double low = range.Minimum;
        double high = range.Maximum;
        double slope = 1;
        double loudness = double.NaN;
        for (int trial = 0; trial < MostTrials; trial++)
        {
            double before = loudness;
            double step = gain - lastGain;
            loudness = LoudnessAt(limiter, gain, catalogue, path, rate, cancellation);
            double missing = wanted - loudness;
            if (Math.Abs(missing) <= ToleranceLu)
            {
                return Math.Round(gain, 3);
            }

            if (!double.IsFinite(loudness))
            {
                throw new DeliveryException($"'{title}' is silent; there is no loudness to bring to {wanted:0.#} LUFS");
            }

            // Loudness rises with gain, dB for dB at first and less and less as the limiter takes it back: a secant inside
            // a bracket that closes.
            (low, high) = missing > 0 ? (gain, high) : (low, gain);
            if (trial > 0 && step != 0)
            {
                slope = Math.Clamp((loudness - before) / step, 0.05, 1);
            }

            lastGain = gain;
            double next = gain + missing / slope;
            gain = next <= low || next >= high ? (low + high) / 2 : next;
            if (Math.Abs(gain - lastGain) < 0.001)
            {
                break;
            }
        }

        throw new DeliveryException(
            $"'{title}' reaches {loudness:0.0} LUFS at most within the limiter's gain range; the target of {wanted:0.#} LUFS is {Math.Abs(wanted - loudness):0.0} LU away");
    }

    private static double LoudnessAt(
        ChainSlot settings, double gain, ProcessorCatalogue catalogue, string path, int rate, CancellationToken cancellation)
    {
        Processor limiter = SongLimiter.Create(settings with { Parameters = settings.Parameters.SetItem(SongLimiter.GainId, gain) }, 0, catalogue);
        limiter.Prepare(new ProcessingFormat(rate, FramesAtOnce));
        LoudnessMeter meter = new(rate);
        using IAudioReader reader = AudioFile.Open(path);
        float[] left = new float[FramesAtOnce];
        float[] right = new float[FramesAtOnce];
        int toSkip = limiter.LatencyFrames;
        int frames;
        while ((frames = reader.Read(left, right)) > 0)
        {
            cancellation.ThrowIfCancellationRequested();
            limiter.Process(new StereoBlock(left.AsSpan(0, frames), right.AsSpan(0, frames)));
            int skipped = Math.Min(toSkip, frames);
            toSkip -= skipped;
            meter.Add(left.AsSpan(skipped, frames - skipped), right.AsSpan(skipped, frames - skipped));
        }

        return meter.IntegratedLufs;
    }
}
