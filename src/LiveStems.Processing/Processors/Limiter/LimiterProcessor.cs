using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Simd;
using LiveStems.Processing.Contract;
using static LiveStems.Processing.Processors.Limiter.LimiterParameters;

namespace LiveStems.Processing.Processors.Limiter;

/// <summary>
/// A true-peak limiter with look-ahead: <see cref="TruePeakLimiter"/> behind an input gain.
/// </summary>
/// <remarks>
/// While the true peak stays 0.03 dB below the ceiling, and with an input gain of 0 dB, the sound comes out bit for bit
/// after the latency (sound at the edge of the band counts for a little more than it reads). No sound passes the ceiling
/// by 0.1 dB. A ceiling that moves holds for the sound that comes in at that time, and so arrives at the output with the
/// latency.
/// </remarks>
public sealed class LimiterProcessor : Processor
{
    private TruePeakLimiter limiter = new(2, 48_000);
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
    /// <see cref="Processor.Process"/> call, as a magnitude; read within 0.2 dB for sound up to 0.45 of the sample rate.
    /// </summary>
    public float PeakBeforeLimiting => peakBefore;

    /// <summary>Frames that <see cref="CopyReduction"/> can tell of: blocks of this length, from the reset on, are worked in one go.</summary>
    public const int CurveFrames = TruePeakLimiter.ChunkFrames;

    /// <summary>
    /// Writes the gain reduction in dB, 0 or above, of each frame of the last block, which had at most
    /// <see cref="CurveFrames"/> frames and began at a multiple of them; the same curve may then be laid on another sound.
    /// </summary>
    public void CopyReduction(Span<float> reductionDb) => limiter.CopyReduction(reductionDb);

    /// <inheritdoc/>
    protected override void OnPrepare() =>
        limiter = new TruePeakLimiter((int)Math.Round(LookAheadMs[Choice(LookAhead)] * Format.SampleRate / 1000), Format.SampleRate);

    /// <inheritdoc/>
    protected override void OnReset()
    {
        SetLimiter();
        limiter.Reset();
        deepest = 0;
        peakBefore = 0;
        inputGain = new Ramp((float)Value(InputGainDb));
        ceiling = new Ramp((float)Value(CeilingDbtp));
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved()
    {
        inputGain = inputGain.Towards((float)Value(InputGainDb), ControlInterval);
        ceiling = ceiling.Towards((float)Value(CeilingDbtp), ControlInterval);
        SetLimiter();
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

    private void SetLimiter()
    {
        limiter.SetRelease(Value(ReleaseMs), IsOn(AdaptiveRelease), Format.SampleRate);
        limiter.SetLink((float)(Value(LinkPercent) / 100));
    }

    private void ProcessChunk(in StereoBlock chunk, int position)
    {
        LimiterInput.Condition(chunk.Left, inputGain, position);
        LimiterInput.Condition(chunk.Right, inputGain, position);
        limiter.Process(chunk.Left, chunk.Right, ceiling, position);
        deepest = Math.Max(deepest, limiter.DeepestReductionDb);
        peakBefore = Math.Max(peakBefore, limiter.InputPeak);
    }
}
