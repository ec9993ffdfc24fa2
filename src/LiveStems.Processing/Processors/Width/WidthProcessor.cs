using LiveStems.Dsp;
using LiveStems.Dsp.Filters;
using LiveStems.Dsp.Simd;
using LiveStems.Dsp.Space;
using LiveStems.Processing.Contract;
using static LiveStems.Processing.Processors.Width.WidthParameters;

namespace LiveStems.Processing.Processors.Width;

/// <summary>Width of the stereo image in three bands, mono below a frequency, and a guard for the correlation.</summary>
/// <remarks>
/// Only the side is filtered, and only the difference that this makes is added to left and taken from right. So the mid,
/// and with it the mono sum, stays as it was at any setting (within float rounding), a setting of 100 % everywhere passes
/// every bit, and there is no latency. The price is that the side turns in phase against the mid around a crossover
/// whose bands differ, as it does behind any filter that does not delay.
/// </remarks>
public sealed class WidthProcessor : Processor
{
    /// <summary>Frames that go through the filter together.</summary>
    internal const int ChunkFrames = 256;

    private const float Loudest = 1e6f;

    private readonly SideFilter filter = new();
    private readonly float[] middle = new float[ChunkFrames];
    private readonly float[] side = new float[ChunkFrames];
    private CorrelationGuard guard = new(48_000, ControlInterval);
    private LinearRamp guardGain;
    private double lowestGain;

    /// <summary>A width processor with every parameter at its default.</summary>
    public WidthProcessor()
        : base(WidthParameters.Description)
    {
    }

    /// <summary>How far the guard takes the side down, dB: the deepest of the last block.</summary>
    public override float GainReductionDb => (float)Math.Max(-160, Decibels.FromAmplitude(lowestGain));

    /// <inheritdoc/>
    public override ProcessorGroup? GroupOf(IReadOnlyList<Processor> members) =>
        new WidthGroup([.. members.Cast<WidthProcessor>()]);

    /// <summary>The filter of the side.</summary>
    internal SideFilter Filter => filter;

    /// <summary>Frames since the last multiple of <see cref="Processor.ControlInterval"/>.</summary>
    internal int Position => IntervalPosition;

    /// <inheritdoc/>
    protected override bool SegmentsFollowControlInterval => filter.IsFading;

    private bool IsGuarding => Value(LowestCorrelation) > -1 || guardGain.Target < 1 || guardGain.IsMoving;

    private BandWidths Widths => new(
        Value(LowPercent) / 100, Value(MiddlePercent) / 100, Value(HighPercent) / 100, Value(LowCrossoverHz), Value(HighCrossoverHz));

    /// <inheritdoc/>
    protected override void OnPrepare() => guard = new CorrelationGuard(Format.SampleRate, ControlInterval);

    /// <inheritdoc/>
    protected override void OnReset()
    {
        filter.Jump(Widths, IsOn(MonoBelowOn), Value(MonoBelowHz), Format.SampleRate, GlideSteps);
        guard.Reset();
        guardGain.Jump(1);
        lowestGain = 1;
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved() => filter.MoveTo(Widths, Format.SampleRate);

    /// <inheritdoc/>
    protected override void OnControlStep() =>
        filter.Step(IsOn(MonoBelowOn), Value(MonoBelowHz), Format.SampleRate, GlideSteps);

    /// <inheritdoc/>
    protected override void OnBlockStart() => lowestGain = guardGain.Target;

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        for (int done = 0; done < segment.Frames; done += ChunkFrames)
        {
            int frames = Math.Min(ChunkFrames, segment.Frames - done);
            Span<float> left = segment.Left.Slice(done, frames);
            Span<float> right = segment.Right.Slice(done, frames);
            filter.Process(SideOf(left, right));
            Put(left, right, IntervalPosition + done);
        }
    }

    /// <inheritdoc/>
    protected override void FlushTinyState()
    {
        filter.FlushTinyState();
        guard.FlushTinyState();
    }

    /// <summary>Holds a chunk within bounds, and returns its side to be filtered in place.</summary>
    internal Span<float> SideOf(Span<float> left, Span<float> right)
    {
        Bounds.Hold(left, Loudest);
        Bounds.Hold(right, Loudest);
        Span<float> s = side.AsSpan(0, left.Length);
        MidSide.Split(left, right, middle.AsSpan(0, left.Length), s);
        return s;
    }

    /// <summary>Puts the filtered side into the chunk that <see cref="SideOf"/> was called for.</summary>
    /// <param name="left">Left of the chunk.</param>
    /// <param name="right">Right of the chunk.</param>
    /// <param name="position">Frames from a multiple of <see cref="Processor.ControlInterval"/> to the chunk.</param>
    internal void Put(Span<float> left, Span<float> right, int position)
    {
        Span<float> s = side.AsSpan(0, left.Length);
        Guard(middle.AsSpan(0, left.Length), s, position);
        MidSide.ReplaceSide(left, right, s);
        Planar.FlushTinyAndCheckFinite(left);
        Planar.FlushTinyAndCheckFinite(right);
    }

    // The filter runs over the whole chunk at once, the guard from one control step to the next.
    private void Guard(Span<float> m, Span<float> s, int position)
    {
        for (int done = 0; IsGuarding && done < s.Length;)
        {
            int place = (position + done) % ControlInterval;
            if (place == 0)
            {
                guard.Step(Value(LowestCorrelation));
                guardGain.MoveTo(guard.Gain, ControlInterval);
            }

            int frames = Math.Min(ControlInterval - place, s.Length - done);
            guard.Hear(m.Slice(done, frames), s.Slice(done, frames));
            guardGain.Multiply(s.Slice(done, frames));
            lowestGain = Math.Min(lowestGain, guardGain.Target);
            done += frames;
        }
    }
}
