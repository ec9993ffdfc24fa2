using System.Runtime.Intrinsics;
using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Simd;
using LiveStems.Processing.Contract;
using static LiveStems.Processing.Processors.DeEsser.DeEsserParameters;

namespace LiveStems.Processing.Processors.DeEsser;

/// <summary>
/// A de-esser: <see cref="SibilanceDetector"/> → static curve that holds at the threshold, with a soft knee, within the range →
/// <see cref="Ballistics"/> → <see cref="DynamicHighShelf"/>, or a plain gain in wide mode. Both channels share one gain, so the
/// image stands still. While nothing is reduced the sound comes out bit for bit.
/// </summary>
public sealed class DeEsserProcessor : Processor, ISpectralReduction
{
    private const int ChunkFrames = 256;
    private const double KneeDb = 4;

    // The share of the sample rate that the corner never passes, for rates too low for voices.
    private const double HighestCorner = 0.45;

    private readonly SibilanceDetector detector = new();
    private readonly Ballistics ballistics = new();
    private readonly DynamicHighShelf shelf = new();
    private readonly DeEsserMeter meter = new();
    private readonly float[] gains = new float[ChunkFrames];
    private LookAheadDelay delayLeft = new(0);
    private LookAheadDelay delayRight = new(0);
    private GainComputer curve;
    private double corner;
    private float deepest;

    /// <summary>A de-esser with every parameter at its default.</summary>
    public DeEsserProcessor()
        : base(DeEsserParameters.Description)
    {
    }

    /// <inheritdoc/>
    public override int LatencyFrames => delayLeft.Samples;

    /// <inheritdoc/>
    public override float GainReductionDb => -deepest;

    /// <inheritdoc/>
    public ReadOnlySpan<float> ReductionFrequenciesHz => meter.Frequencies;

    /// <inheritdoc/>
    public ReadOnlySpan<float> LatestReductionDb() => meter.CurveDb();

    /// <inheritdoc/>
    protected override void OnPrepare()
    {
        int frames = (int)Math.Round(LookAheadMs[Choice(LookAhead)] * Format.SampleRate / 1000);
        delayLeft = new LookAheadDelay(frames);
        delayRight = new LookAheadDelay(frames);
        meter.Prepare(Format.SampleRate, Choice(Mode) == Wide);
    }

    /// <inheritdoc/>
    protected override void OnReset()
    {
        detector.Reset();
        ballistics.Reset();
        shelf.Reset();
        delayLeft.Reset();
        delayRight.Reset();
        deepest = 0;
        Set();
        meter.Publish(0, corner);
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved() => Set();

    /// <inheritdoc/>
    protected override void OnBlockStart()
    {
        meter.Publish(-deepest, corner);
        deepest = 0;
    }

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        for (int done = 0; done < segment.Frames; done += ChunkFrames)
        {
            ProcessChunk(segment.Slice(done, Math.Min(ChunkFrames, segment.Frames - done)));
        }
    }

    /// <inheritdoc/>
    protected override void FlushTinyState()
    {
        detector.FlushTinyState();
        ballistics.FlushTinyState();
        shelf.FlushTinyState();
    }

    private void Set()
    {
        corner = Math.Min(Value(FrequencyHz), HighestCorner * Format.SampleRate);
        detector.Set(corner, Format.SampleRate);
        shelf.SetCorner(corner, Format.SampleRate);
        curve = GainComputer.Compressor(Value(ThresholdDb), double.PositiveInfinity, KneeDb);
        ballistics.SetTimes(Value(AttackMs), Value(ReleaseMs), false, Format.SampleRate);
    }

    private void ProcessChunk(in StereoBlock chunk)
    {
        int frames = chunk.Frames;
        Span<float> padded = gains.AsSpan(0, (frames + Vector256<float>.Count - 1) & -Vector256<float>.Count);
        Span<float> inside = padded[..frames];
        padded[frames..].Clear();
        detector.Process(chunk.KeyLeft, chunk.KeyRight, inside);
        DeEsserKernels.ToReduction(padded, curve, (float)Value(RangeDb));
        ballistics.Process(inside, inside);
        deepest = Math.Max(deepest, GainStage.FromReduction(padded, new Ramp(0), 0, padded, frames));
        delayLeft.Process(chunk.Left);
        delayRight.Process(chunk.Right);
        if (Choice(Mode) == Wide)
        {
            GainStage.Apply(chunk.Left, inside);
            GainStage.Apply(chunk.Right, inside);
        }
        else
        {
            shelf.Process(chunk.Left, chunk.Right, inside);
        }
    }
}
