using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Simd;
using LiveStems.Processing.Contract;
using static LiveStems.Processing.Processors.Limiter.LimiterParameters;

namespace LiveStems.Processing.Processors.Limiter;

/// <summary>
/// A true-peak limiter with look-ahead: <see cref="TruePeakLimiter"/> behind an input gain.
/// </summary>
public sealed class LimiterProcessor : Processor
{
    private TruePeakLimiter limiter = new(2);
    private readonly float[] gains = new float[TruePeakLimiter.ChunkFrames + 8];
    private Ramp inputGain;
    private Ramp ceiling;
    private float deepest;
    private float peakBefore;

    /// <summary>A limiter with every parameter at its default.</summary>
    public LimiterProcessor()
        : base(LimiterParameters.Description)
    {
    }

    /// <inheritdoc/>
    public override int LatencyFrames => limiter.DelayFrames;

    /// <inheritdoc/>
    public override float GainReductionDb => -deepest;

    /// <summary>
    /// Highest true peak of the sound on its way into the limiter, input gain included, during the last
    /// <see cref="Processor.Process"/> call, as a magnitude.
    /// </summary>
    public float PeakBeforeLimiting => peakBefore;

    /// <inheritdoc/>
    protected override void OnPrepare() =>
        limiter = new TruePeakLimiter((int)Math.Round(LookAheadMs[Choice(LookAhead)] * Format.SampleRate / 1000));

    /// <inheritdoc/>
    protected override void OnReset()
    {
        limiter.Reset();
        deepest = 0;
        peakBefore = 0;
        inputGain = new Ramp((float)Value(InputGainDb));
        ceiling = new Ramp((float)Value(CeilingDbtp));
        SetRelease();
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved()
    {
        inputGain = inputGain.Towards((float)Value(InputGainDb), ControlInterval);
        ceiling = ceiling.Towards((float)Value(CeilingDbtp), ControlInterval);
        SetRelease();
    }

    /// <inheritdoc/>
    protected override void OnBlockStart() => deepest = peakBefore = 0;

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        for (int done = 0; done < segment.Frames; done += TruePeakLimiter.ChunkFrames)
        {
            int frames = Math.Min(TruePeakLimiter.ChunkFrames, segment.Frames - done);
            ProcessChunk(segment.Slice(done, frames), IntervalPosition + done);
        }
    }

    /// <inheritdoc/>
    protected override void FlushTinyState() => limiter.FlushTinyState();

    private void SetRelease() => limiter.SetRelease(Value(ReleaseMs), IsOn(AdaptiveRelease), Format.SampleRate);

    private void ProcessChunk(in StereoBlock chunk, int position)
    {
        int padded = (chunk.Frames + 7) & -8;
        gains.AsSpan(0, padded).Clear();
        GainStage.FromReduction(gains.AsSpan(0, padded), chunk.Frames, inputGain, position);
        GainStage.Apply(chunk.Left, gains);
        GainStage.Apply(chunk.Right, gains);
        limiter.Process(chunk.Left, chunk.Right, ceiling, position, (float)(Value(LinkPercent) / 100));
        deepest = Math.Max(deepest, limiter.DeepestReductionDb);
        peakBefore = Math.Max(peakBefore, limiter.InputPeak);
    }
}
