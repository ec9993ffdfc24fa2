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
/// <para>
/// Order: key (own or external) → key high-pass → peak or RMS level → curve → link → ballistics → gain. At a link of
/// 100 % the curve sees the louder channel; below, each channel's reduction moves towards the deeper one by that share.
/// </para>
/// <para>
/// Levels, curve and gains are worked out eight frames at a time; only the ballistics go frame by frame. The gain is
/// within 0.0002 dB of the same computation in double precision.
/// </para>
/// </remarks>
public sealed class CompressorProcessor : Processor
{
    /// <summary>Frames that go through the stages together.</summary>
    internal const int ChunkFrames = 256;

    private readonly Ballistics ballistics = new();
    private readonly FeedbackLoop loop = new();
    private readonly KeyHighPass keyHighPass = new();
    private readonly PowerDetector power = new();
    private readonly float[] left = new float[ChunkFrames];
    private readonly float[] right = new float[ChunkFrames];
    private MakeUpGain makeUp = new(48_000);
    private LookAheadDelay delayLeft = new(0);
    private LookAheadDelay delayRight = new(0);
    private GainComputer curve;
    private float deepest;
    private bool feedsBack;
    private bool filtersKey;
    private bool oneSpeaksForBoth;

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
    public override ProcessorGroup? GroupOf(IReadOnlyList<Processor> members) =>
        BallisticsGroup.IsSupported ? new CompressorGroup([.. members.Cast<CompressorProcessor>()]) : null;

    /// <inheritdoc/>
    protected override bool SegmentsFollowControlInterval => makeUp.Moves;

    /// <inheritdoc/>
    protected override void OnPrepare()
    {
        int frames = (int)Math.Round(LookAheadMs[Choice(LookAhead)] * Format.SampleRate / 1000);
        delayLeft = new LookAheadDelay(frames);
        delayRight = new LookAheadDelay(frames);
        makeUp = new MakeUpGain(Format.SampleRate);
    }

    /// <inheritdoc/>
    protected override void OnReset()
    {
        ballistics.Reset();
        loop.StartFrom((0, 0));
        keyHighPass.Reset();
        power.Reset();
        delayLeft.Reset();
        delayRight.Reset();
        makeUp.Reset(Value(MakeUpDb), IsOn(AutoMakeUp));
        deepest = 0;
        feedsBack = Choice(Topology) == FeedBack;
        filtersKey = IsOn(KeyHighPassOn);
        SetSections();
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved()
    {
        makeUp.Follow(IsOn(AutoMakeUp));
        if (IsOn(KeyHighPassOn) && !filtersKey)
        {
            keyHighPass.Reset();
        }

        filtersKey = IsOn(KeyHighPassOn);
        bool feedsBackNow = Choice(Topology) == FeedBack;
        if (feedsBackNow && !feedsBack)
        {
            loop.StartFrom(ballistics.ReductionDb);
        }
        else if (feedsBack && !feedsBackNow)
        {
            ballistics.StartFrom(loop.ReductionDb);
        }

        feedsBack = feedsBackNow;
        SetSections();
    }

    /// <inheritdoc/>
    protected override void OnControlStep() => makeUp.StartInterval(Value(MakeUpDb));

    /// <inheritdoc/>
    protected override void OnBlockStart() => deepest = 0;

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        for (int done = 0; done < segment.Frames; done += ChunkFrames)
        {
            StereoBlock chunk = segment.Slice(done, Math.Min(ChunkFrames, segment.Frames - done));
            PlanarStereo reductions = WantReduction(chunk);
            ballistics.Process(reductions.Left.AsSpan(0, chunk.Frames), reductions.Right.AsSpan(0, chunk.Frames));
            ApplyReduction(chunk, IntervalPosition + done);
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
        ballistics.SetTimes(feedsBack ? 0 : Value(AttackMs), Value(ReleaseMs), IsOn(AutoRelease), Format.SampleRate);
        loop.Set(Value(AttackMs), curve, Format.SampleRate);
        keyHighPass.SetCorner(Value(KeyHighPassHz), Format.SampleRate);
        power.SetWindow(Value(RmsWindowMs), Format.SampleRate);
    }

    /// <summary>Attack and release.</summary>
    internal Ballistics Ballistics => ballistics;

    /// <summary>The first part of a chunk: from the key to the wanted reductions, which wait for <see cref="Ballistics"/>.</summary>
    internal PlanarStereo WantReduction(in StereoBlock chunk)
    {
        float link = (float)(Value(LinkPercent) / 100);
        oneSpeaksForBoth = link >= 1 && ballistics.ChannelsAgree && (!feedsBack || loop.ChannelsAgree);
        bool isRms = Choice(Detector) == Rms;
        if (filtersKey || isRms)
        {
            Detect(chunk, isRms);
            CompressorKernels.ToReduction(left.AsSpan(0, chunk.Frames), right.AsSpan(0, chunk.Frames), isRms, curve, link, left, right);
        }
        else
        {
            CompressorKernels.ToReduction(chunk.KeyLeft, chunk.KeyRight, false, curve, link, left, right);
        }

        if (link >= 1 && !oneSpeaksForBoth)
        {
            left.CopyTo(right);
        }

        return new PlanarStereo(left, oneSpeaksForBoth ? left : right);
    }

    /// <summary>The last part of a chunk: from the smoothed reductions to the sound.</summary>
    internal void ApplyReduction(in StereoBlock chunk, int position)
    {
        int frames = chunk.Frames;
        int padded = (frames + Vector256<float>.Count - 1) & -Vector256<float>.Count;
        Span<float> gainsLeft = left.AsSpan(0, padded);
        Span<float> gainsRight = oneSpeaksForBoth ? gainsLeft : right.AsSpan(0, padded);
        if (feedsBack)
        {
            loop.Process(gainsLeft[..frames], gainsRight[..frames]);
        }

        deepest = Math.Max(deepest, GainStage.FromReduction(gainsLeft, makeUp.Db, position, gainsLeft, frames));
        if (!oneSpeaksForBoth)
        {
            deepest = Math.Max(deepest, GainStage.FromReduction(gainsRight, makeUp.Db, position, gainsRight, frames));
        }

        delayLeft.Process(chunk.Left);
        delayRight.Process(chunk.Right);
        makeUp.HearBefore(chunk.Left, chunk.Right);
        GainStage.Apply(chunk.Left, gainsLeft);
        GainStage.Apply(chunk.Right, gainsRight);
        makeUp.HearAfter(chunk.Left, chunk.Right);
    }

    private void Detect(in StereoBlock chunk, bool isRms)
    {
        Span<float> toLeft = left.AsSpan(0, chunk.Frames);
        Span<float> toRight = right.AsSpan(0, chunk.Frames);
        ReadOnlySpan<float> keyLeft = chunk.KeyLeft;
        ReadOnlySpan<float> keyRight = chunk.KeyRight;
        if (filtersKey)
        {
            keyHighPass.Process(keyLeft, keyRight, toLeft, toRight);
            keyLeft = toLeft;
            keyRight = toRight;
        }

        if (isRms)
        {
            power.Process(keyLeft, keyRight, toLeft, toRight);
        }
    }
}
