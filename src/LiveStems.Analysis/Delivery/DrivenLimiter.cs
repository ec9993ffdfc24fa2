using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Dsp.Loudness;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Delivery;

/// <summary>What leaves a limiter at some input gain.</summary>
/// <param name="Loudness">Loudness and peaks.</param>
/// <param name="LargestReductionDb">Deepest gain reduction in dB, 0 or above.</param>
internal sealed record DrivenFigures(LoudnessReport Loudness, double LargestReductionDb)
{
    /// <summary>Peak-to-loudness ratio in LU; NaN for silence.</summary>
    public double PeakToLoudnessLu => Loudness.PeakToLoudnessLu ?? double.NaN;
}

/// <summary>A song's limiter run over what reaches it, at any input gain. Trials are kept.</summary>
/// <param name="settings">The limiter's settings.</param>
/// <param name="path">The sound that reaches it.</param>
/// <param name="catalogue">Where processors come from.</param>
/// <param name="cancellation">Stops between two blocks.</param>
internal sealed class DrivenLimiter(ChainSlot settings, string path, ProcessorCatalogue catalogue, CancellationToken cancellation)
{
    private const int FramesAtOnce = 4096;

    private readonly Dictionary<double, DrivenFigures> trials = [];

    /// <summary>Range of the input gain.</summary>
    public ParameterSpec Range { get; } = Gain(catalogue);

    /// <summary>The gain that the settings have.</summary>
    public double PresentGainDb => Range.Clamp(settings.Parameters.GetValueOrDefault(SongLimiter.GainId, Range.Default));

    /// <summary>Runs and measures at an input gain in dB.</summary>
    public DrivenFigures At(double gainDb) => trials.TryGetValue(gainDb, out DrivenFigures? known) ? known : trials[gainDb] = Measure(gainDb);

    private static ParameterSpec Gain(ProcessorCatalogue catalogue)
    {
        Processor processor = catalogue.Create(SongLimiter.Id)!;
        return processor.Description.Parameters[processor.Description.IndexOf(SongLimiter.GainId)];
    }

    private DrivenFigures Measure(double gainDb)
    {
        using StoredSound sound = new(path, FramesAtOnce);
        Processor limiter = SongLimiter.Create(settings with { Parameters = settings.Parameters.SetItem(SongLimiter.GainId, gainDb) }, 0, catalogue);
        limiter.Prepare(new ProcessingFormat(sound.SampleRate, FramesAtOnce));
        ProgrammeMeter meter = new(sound.SampleRate);
        double deepest = 0;
        int toSkip = limiter.LatencyFrames;
        for (long rest = sound.Frames + limiter.LatencyFrames; rest > 0; rest -= FramesAtOnce)
        {
            cancellation.ThrowIfCancellationRequested();
            int frames = (int)Math.Min(rest, FramesAtOnce);
            sound.Read(frames);
            Span<float> left = sound.Left.AsSpan(0, frames);
            Span<float> right = sound.Right.AsSpan(0, frames);
            limiter.Process(new StereoBlock(left, right));
            deepest = Math.Max(deepest, -limiter.GainReductionDb);
            int skipped = Math.Min(toSkip, frames);
            toSkip -= skipped;
            meter.Add(left[skipped..], right[skipped..]);
        }

        return new DrivenFigures(meter.Finish(), deepest);
    }
}
