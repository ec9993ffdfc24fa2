using System.Runtime.Intrinsics;
using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Simd;
using LiveStems.Processing.Contract;
using static LiveStems.Processing.Processors.Expander.ExpanderParameters;

namespace LiveStems.Processing.Processors.Expander;

/// <summary>A downward expander and gate with hysteresis, hold and look-ahead.</summary>
/// <remarks>
/// Order: key (own or external) → key high-pass and low-pass → <see cref="PeakWindow"/> → level in dB →
/// <see cref="HysteresisCurve"/> → link → <see cref="GateBallistics"/> → gain on the delayed sound. The detector rises
/// with the first sample of a hit, so with look-ahead the gain has the whole of it to open.
/// </remarks>
public sealed class ExpanderProcessor : Processor
{
    private const int ChunkFrames = 256;
    private const double HighestKeyCornerShare = 0.45;
    private const double SteepestRatio = 1e4;

    private readonly KeyHighPass keyHighPass = new();
    private readonly KeyLowPass keyLowPass = new();
    private readonly HysteresisCurve curveLeft = new();
    private readonly HysteresisCurve curveRight = new();
    private readonly float[] left = new float[ChunkFrames];
    private readonly float[] right = new float[ChunkFrames];
    private GateBallistics ballisticsLeft = new(0, 1);
    private GateBallistics ballisticsRight = new(0, 1);
    private PeakWindow peakLeft = new(0, 1);
    private PeakWindow peakRight = new(0, 1);
    private LookAheadDelay delayLeft = new(0);
    private LookAheadDelay delayRight = new(0);
    private float deepest;
    private bool filtersLows;
    private bool filtersHighs;

    /// <summary>An expander with every parameter at its default.</summary>
    public ExpanderProcessor()
        : base(ExpanderParameters.Description)
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
        double longestHold = Description.Parameters[HoldMs].Maximum;
        ballisticsLeft = new GateBallistics(longestHold, Format.SampleRate);
        ballisticsRight = new GateBallistics(longestHold, Format.SampleRate);
        peakLeft = new PeakWindow(Format.SampleRate, ChunkFrames);
        peakRight = new PeakWindow(Format.SampleRate, ChunkFrames);
    }

    /// <inheritdoc/>
    protected override void OnReset()
    {
        keyHighPass.Reset();
        keyLowPass.Reset();
        peakLeft.Reset();
        peakRight.Reset();
        curveLeft.Reset();
        curveRight.Reset();
        delayLeft.Reset();
        delayRight.Reset();
        deepest = 0;
        filtersLows = IsOn(KeyHighPassOn);
        filtersHighs = IsOn(KeyLowPassOn);
        SetSections();

        double closed = GainComputer.Expander(Value(ThresholdDb), EffectiveRatio, Value(KneeDb), -Value(RangeDb)).ReductionDb(LevelDetector.FloorDb);
        ballisticsLeft.Reset(closed);
        ballisticsRight.Reset(closed);
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved()
    {
        if (IsOn(KeyHighPassOn) && !filtersLows)
        {
            keyHighPass.Reset();
        }

        if (IsOn(KeyLowPassOn) && !filtersHighs)
        {
            keyLowPass.Reset();
        }

        filtersLows = IsOn(KeyHighPassOn);
        filtersHighs = IsOn(KeyLowPassOn);
        SetSections();
    }

    /// <inheritdoc/>
    protected override void OnBlockStart() => deepest = 0;

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
        keyHighPass.FlushTinyState();
        keyLowPass.FlushTinyState();
        ballisticsLeft.FlushTinyState();
        ballisticsRight.FlushTinyState();
    }

    private double EffectiveRatio => Value(Ratio) >= GateRatio ? SteepestRatio : Value(Ratio);

    private void SetSections()
    {
        double highestCorner = HighestKeyCornerShare * Format.SampleRate;
        keyHighPass.SetCorner(Math.Min(Value(KeyHighPassHz), highestCorner), Format.SampleRate);
        keyLowPass.SetCorner(Math.Min(Value(KeyLowPassHz), highestCorner), Format.SampleRate);
        curveLeft.Set(Value(ThresholdDb), Value(HysteresisDb), EffectiveRatio, Value(KneeDb), -Value(RangeDb));
        curveRight.Set(Value(ThresholdDb), Value(HysteresisDb), EffectiveRatio, Value(KneeDb), -Value(RangeDb));
        ballisticsLeft.SetTimes(Value(AttackMs), Value(HoldMs), Value(ReleaseMs));
        ballisticsRight.SetTimes(Value(AttackMs), Value(HoldMs), Value(ReleaseMs));
    }

    private void ProcessChunk(in StereoBlock chunk)
    {
        int frames = chunk.Frames;
        Span<float> toLeft = left.AsSpan(0, frames);
        Span<float> toRight = right.AsSpan(0, frames);
        FilterKey(chunk, toLeft, toRight);
        peakLeft.Process(toLeft);
        peakRight.Process(toRight);

        Span<float> wholeLeft = left.AsSpan(0, (frames + Vector256<float>.Count - 1) & -Vector256<float>.Count);
        Span<float> wholeRight = right.AsSpan(0, wholeLeft.Length);
        ExpanderKernels.ToLevelDb(wholeLeft);
        ExpanderKernels.ToLevelDb(wholeRight);
        curveLeft.Process(wholeLeft, frames);
        curveRight.Process(wholeRight, frames);
        ExpanderKernels.Link(wholeLeft, wholeRight, (float)(Value(LinkPercent) / 100));
        ballisticsLeft.Process(toLeft);
        ballisticsRight.Process(toRight);

        Ramp noMakeUp = new(0);
        deepest = Math.Max(deepest, GainStage.FromReduction(wholeLeft, noMakeUp, 0, wholeLeft, frames));
        deepest = Math.Max(deepest, GainStage.FromReduction(wholeRight, noMakeUp, 0, wholeRight, frames));
        delayLeft.Process(chunk.Left);
        delayRight.Process(chunk.Right);
        GainStage.Apply(chunk.Left, wholeLeft);
        GainStage.Apply(chunk.Right, wholeRight);
    }

    private void FilterKey(in StereoBlock chunk, Span<float> toLeft, Span<float> toRight)
    {
        if (filtersLows)
        {
            keyHighPass.Process(chunk.KeyLeft, chunk.KeyRight, toLeft, toRight);
        }
        else
        {
            chunk.KeyLeft.CopyTo(toLeft);
            chunk.KeyRight.CopyTo(toRight);
        }

        if (filtersHighs)
        {
            keyLowPass.Process(toLeft, toRight);
        }
    }
}
