using LiveStems.Dsp.Spectral;
using LiveStems.Processing.Contract;
using static LiveStems.Processing.Processors.ResonanceSuppressor.ResonanceSuppressorParameters;

namespace LiveStems.Processing.Processors.ResonanceSuppressor;

/// <summary>
/// Takes down resonances while they ring: <see cref="Dsp.Spectral.ResonanceSuppressor"/> between the two halves of a
/// <see cref="ShortTimeTransform"/> with Hann windows that overlap eightfold.
/// </summary>
public sealed class ResonanceSuppressorProcessor : Processor, ISpectralReduction
{
    private const int Overlap = 8;
    private const int LargestWindow = 65_536;

    private Dsp.Spectral.ResonanceSuppressor suppressor;
    private ShortTimeTransform transform;
    private float[] frequencies = [];

    /// <summary>A suppressor with every parameter at its default.</summary>
    public ResonanceSuppressorProcessor()
        : base(ResonanceSuppressorParameters.Description) => (suppressor, transform) = Build(64, 48_000);

    /// <inheritdoc/>
    public override int LatencyFrames => transform.LatencyFrames;

    /// <inheritdoc/>
    public override float GainReductionDb => -suppressor.DeepestCutDb;

    /// <summary>Bins of <see cref="LatestReductionDb"/>; bin k lies at k times the sample rate over twice (the bins less one).</summary>
    public int ReductionBins => transform.Bins;

    /// <inheritdoc/>
    public ReadOnlySpan<float> ReductionFrequenciesHz => frequencies;

    /// <inheritdoc/>
    public ReadOnlySpan<float> LatestReductionDb() => suppressor.LatestReductionDb();

    /// <inheritdoc/>
    protected override void OnPrepare()
    {
        int size = WindowFrames(WindowMs[Choice(Resolution)], Format.SampleRate);
        (suppressor, transform) = Build(size, Format.SampleRate);
        frequencies = [.. Enumerable.Range(0, transform.Bins).Select(bin => (float)((double)bin * Format.SampleRate / size))];
    }

    /// <inheritdoc/>
    protected override void OnReset()
    {
        suppressor.Reset();
        transform.Reset();
        Set();
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved() => Set();

    /// <inheritdoc/>
    protected override void OnBlockStart() => suppressor.RestartMeter();

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment) => transform.Process(segment.Left, segment.Right);

    private static int WindowFrames(double milliseconds, int sampleRate)
    {
        double octave = Math.Round(Math.Log2(milliseconds * sampleRate / 1000));
        return (int)Math.Clamp(Math.Pow(2, octave), 64, LargestWindow);
    }

    private static (Dsp.Spectral.ResonanceSuppressor Suppressor, ShortTimeTransform Transform) Build(int size, int sampleRate)
    {
        Dsp.Spectral.ResonanceSuppressor suppressor = new(size, size / Overlap, sampleRate);
        return (suppressor, new ShortTimeTransform(size, Overlap, suppressor));
    }

    private void Set() => suppressor.Set(new ResonanceSettings(
        Value(DepthPercent) / 100,
        Value(SelectivityDb),
        Value(AttackMs),
        Value(ReleaseMs),
        Value(LowHz),
        Value(HighHz),
        Value(DeepestCutDb),
        Value(LinkPercent) / 100));
}
