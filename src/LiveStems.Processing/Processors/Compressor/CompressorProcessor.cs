using System.Runtime.Intrinsics;
using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Simd;
using LiveStems.Processing.Contract;
using static LiveStems.Processing.Processors.Compressor.CompressorParameters;

namespace LiveStems.Processing.Processors.Compressor;

/// <summary>
/// A compressor after Giannoulis, Massberg, Reiss, "Digital Dynamic Range Compressor Design: A Tutorial and Analysis",
/// JAES 60(6), 2012: level in dB → static curve with soft knee → smooth decoupled ballistics on the reduction in dB →
/// gain of every sample. Feed-back instead solves the loop of <see cref="FeedbackLoop"/>.
/// </summary>
/// <remarks>
/// Order: key (own or external) → key high-pass → peak or RMS level → curve → link → ballistics → gain. At a link of
/// 100 % the curve sees the louder channel; below, each channel's reduction moves towards the deeper one by that share.
/// </remarks>
public sealed class CompressorProcessor : Processor
{
    private const int ChunkFrames = 256;

    private readonly Ballistics ballistics = new();
    private readonly FeedbackLoop loop = new();
    private readonly KeyHighPass keyHighPass = new();
    private readonly PowerDetector power = new();
    private readonly float[] left = new float[ChunkFrames];
    private readonly float[] right = new float[ChunkFrames];
    private LookAheadDelay delayLeft = new(0);
    private LookAheadDelay delayRight = new(0);
    private GainComputer curve;
    private Ramp makeUp;
    private float deepest;
    private bool feedBack;
    private bool filtersKey;

    /// <summary>A compressor with every parameter at its default.</summary>
    public CompressorProcessor()
        : base(CompressorParameters.Description)
    {
    }

    /// <inheritdoc/>
    public override int LatencyFrames => delayLeft.Samples;

    /// <inheritdoc/>
    public override float GainReductionDb => -deepest;

    /// <inheritdoc/>
    protected override void OnPrepare()
    {
        int frames = (int)Math.Round(LookAheadMs[Choice(LookAhead)] * Format.SampleRate / 1000);
        delayLeft = new LookAheadDelay(frames);
        delayRight = new LookAheadDelay(frames);
    }

    /// <inheritdoc/>
    protected override void OnReset()
    {
        ballistics.Reset();
        loop.Reset((0, 0));
        keyHighPass.Reset();
        power.Reset();
        delayLeft.Reset();
        delayRight.Reset();
        deepest = 0;
        feedBack = Choice(Topology) == FeedBack;
        filtersKey = IsOn(KeyHighPassOn);
        makeUp = new Ramp((float)Value(MakeUpDb));
        SetSections();
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved()
    {
        makeUp = makeUp.Towards((float)Value(MakeUpDb), ControlInterval);
        if (IsOn(KeyHighPassOn) && !filtersKey)
        {
            keyHighPass.Reset();
        }

        filtersKey = IsOn(KeyHighPassOn);
        bool wasFeedBack = feedBack;
        feedBack = Choice(Topology) == FeedBack;
        if (feedBack && !wasFeedBack)
        {
            loop.Reset(ballistics.ReductionDb);
        }
        else if (wasFeedBack && !feedBack)
        {
            ballistics.StartFrom(loop.ReductionDb);
        }

        SetSections();
    }

    /// <inheritdoc/>
    protected override void OnBlockStart() => deepest = 0;

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        for (int done = 0; done < segment.Frames; done += ChunkFrames)
        {
            ProcessChunk(segment.Slice(done, Math.Min(ChunkFrames, segment.Frames - done)), IntervalPosition + done);
        }
    }

    /// <inheritdoc/>
    protected override void FlushTinyState()
    {
        ballistics.FlushTinyState();
        loop.FlushTinyState();
        keyHighPass.FlushTinyState();
        power.FlushTinyState();
    }

    private void SetSections()
    {
        double ratio = Value(Ratio) >= InfiniteRatio ? double.PositiveInfinity : Value(Ratio);
        curve = GainComputer.Compressor(Value(ThresholdDb), ratio, Value(KneeDb));
        ballistics.SetTimes(feedBack ? 0 : Value(AttackMs), Value(ReleaseMs), IsOn(AutoRelease), Format.SampleRate);
        loop.Set(Value(AttackMs), curve, Format.SampleRate);
        keyHighPass.SetCorner(Value(KeyHighPassHz), Format.SampleRate);
        power.SetWindow(Value(RmsWindowMs), Format.SampleRate);
    }

    private void ProcessChunk(in StereoBlock chunk, int position)
    {
        int frames = chunk.Frames;
        int padded = (frames + Vector256<float>.Count - 1) & -Vector256<float>.Count;
        Detect(chunk);
        bool linked = Value(LinkPercent) >= 100 && ballistics.ChannelsAgree && (!feedBack || loop.ChannelsAgree);
        Span<float> leftDb = left.AsSpan(0, padded);
        Span<float> rightDb = linked ? leftDb : right.AsSpan(0, padded);
        CompressorKernels.ToReduction(left.AsSpan(0, padded), right.AsSpan(0, padded), Choice(Detector) == Rms, curve, (float)(Value(LinkPercent) / 100));
        ballistics.Process(leftDb[..frames], rightDb[..frames]);
        if (feedBack)
        {
            loop.Process(leftDb[..frames], rightDb[..frames]);
        }

        deepest = Math.Max(deepest, GainStage.FromReduction(leftDb, frames, makeUp, position));
        if (!linked)
        {
            deepest = Math.Max(deepest, GainStage.FromReduction(rightDb, frames, makeUp, position));
        }

        delayLeft.Process(chunk.Left);
        delayRight.Process(chunk.Right);
        GainStage.Apply(chunk.Left, leftDb);
        GainStage.Apply(chunk.Right, rightDb);
    }

    private void Detect(in StereoBlock chunk)
    {
        int frames = chunk.Frames;
        Span<float> toLeft = left.AsSpan(0, frames);
        Span<float> toRight = right.AsSpan(0, frames);
        if (filtersKey)
        {
            keyHighPass.Process(chunk.KeyLeft, chunk.KeyRight, toLeft, toRight);
        }
        else
        {
            chunk.KeyLeft.CopyTo(toLeft);
            chunk.KeyRight.CopyTo(toRight);
        }

        if (Choice(Detector) == Rms)
        {
            power.Process(toLeft, toRight, toLeft, toRight);
        }
    }
}
