using LiveStems.Dsp;
using LiveStems.Dsp.Nonlinear;
using LiveStems.Dsp.Resampling;
using LiveStems.Dsp.Simd;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.SoftClipper;

/// <summary>
/// <see cref="SoftClipCurve"/> at 2 to 16 times the sample rate (<see cref="Oversampler"/>), for peaks before a limiter.
/// </summary>
/// <remarks>
/// <para>
/// The way back to the sample rate can carry the sound above the flat top that the curve left it (Gibbs). What would then
/// pass the threshold by more than <see cref="OvershootDb"/> is held there, so no sample of the output is ever higher
/// than that. The peak between samples may be; that is the limiter's business.
/// </para>
/// </remarks>
public sealed class SoftClipperProcessor : Processor
{
    /// <summary>No sample of the output lies further above the threshold, dB.</summary>
    public const double OvershootDb = 0.1;

    private const int ThresholdDb = 0;
    private const int KneeDb = 1;
    private const int InputGainDb = 2;
    private const int Oversampling = 3;
    private const int ChunkFrames = 64;
    private const float Loudest = 1000;

    private Oversampler left = new(1, false, 1);
    private Oversampler right = new(1, false, 1);
    private Ramp inputGain;
    private Ramp ceiling;
    private Ramp kneeStart;
    private Ramp bound;
    private SoftClipCurve curve;
    private float deepest;

    /// <summary>A soft clipper with every parameter at its default.</summary>
    public SoftClipperProcessor()
        : base(Kind)
    {
    }

    /// <summary>What the processor is.</summary>
    public static ProcessorDescription Kind { get; } = new(
        "soft-clipper",
        "Soft clipper",
        1,
        "Rounds off short peaks before the limiter, so that it has less to do.",
        [
            new("thresholdDb", "Threshold", ParameterUnit.Decibels, -24, 0, -3, Taper.Linear, "Level that the peaks are clipped to."),
            new("kneeDb", "Knee", ParameterUnit.Decibels, 0, 12, 3, Taper.Linear, "How far below the threshold the rounding starts."),
            new("inputGainDb", "Input gain", ParameterUnit.Decibels, -12, 24, 0, Taper.Linear, "Drives the sound into the clipper."),
            ParameterSpec.Choice("oversampling", "Oversampling", ["2x", "4x", "8x", "16x"], 1, "How many times the sample rate it works at: more of it makes less aliasing.") with { IsStructural = true },
        ],
        ListensToKey: false);

    /// <inheritdoc/>
    public override int LatencyFrames => left.LatencyFrames;

    /// <inheritdoc/>
    public override float GainReductionDb => -deepest;

    /// <inheritdoc/>
    protected override void OnPrepare()
    {
        left = new Oversampler(Choice(Oversampling) + 1, false, ChunkFrames);
        right = new Oversampler(Choice(Oversampling) + 1, false, ChunkFrames);
    }

    /// <inheritdoc/>
    protected override void OnReset()
    {
        left.Reset();
        right.Reset();
        deepest = 0;
        SetCurve();
        inputGain = new Ramp(Amplitude(InputGainDb));
        ceiling = new Ramp((float)curve.Ceiling);
        kneeStart = new Ramp((float)curve.KneeStart);
        bound = new Ramp(Bound);
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved()
    {
        SetCurve();
        inputGain = inputGain.Towards(Amplitude(InputGainDb), ControlInterval);
        ceiling = ceiling.Towards((float)curve.Ceiling, ControlInterval * left.Factor);
        kneeStart = kneeStart.Towards((float)curve.KneeStart, ControlInterval * left.Factor);
        bound = bound.Towards(Bound, ControlInterval);
    }

    /// <inheritdoc/>
    protected override void OnBlockStart() => deepest = 0;

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        for (int done = 0; done < segment.Frames; done += ChunkFrames)
        {
            StereoBlock chunk = segment.Slice(done, Math.Min(ChunkFrames, segment.Frames - done));
            ProcessChannel(left, chunk.Left, IntervalPosition + done);
            ProcessChannel(right, chunk.Right, IntervalPosition + done);
        }
    }

    private float Bound => (float)(curve.Ceiling * Decibels.ToAmplitude(OvershootDb));

    private float Amplitude(int parameter) => (float)Decibels.ToAmplitude(Value(parameter));

    private void SetCurve() => curve = SoftClipCurve.FromDecibels(Value(ThresholdDb), Value(KneeDb));

    private void ProcessChannel(Oversampler oversampler, Span<float> sound, int position)
    {
        Bounds.Hold(sound, Loudest);
        Ramps.Multiply(sound, inputGain, position);
        Span<float> high = oversampler.Up(sound);
        Meter(Magnitude.Largest(high));
        SoftClipCurve.Process(high, ceiling, kneeStart, position * oversampler.Factor);
        oversampler.Down(sound);
        Ramps.Hold(sound, bound, position);
    }

    private void Meter(float peak)
    {
        if (peak > curve.KneeStart)
        {
            deepest = Math.Max(deepest, (float)Decibels.FromAmplitude(peak / curve.Value(peak)));
        }
    }
}
