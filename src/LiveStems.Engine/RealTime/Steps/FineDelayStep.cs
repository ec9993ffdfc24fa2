using LiveStems.Dsp.Filters;

namespace LiveStems.Engine.RealTime.Steps;

/// <summary>
/// Delays a buffer in place by whole frames and a fraction: the fine alignment of a parallel. An earlier path is one that
/// delays less than the latency it declares.
/// </summary>
internal sealed class FineDelayStep : PlanStep
{
    private readonly StereoBuffer buffer;
    private readonly StereoDelay delay;
    private readonly double frames;

    /// <param name="buffer">The path.</param>
    /// <param name="alignSamples">Frames later, negative for earlier.</param>
    public FineDelayStep(StereoBuffer buffer, double alignSamples)
    {
        this.buffer = buffer;
        int ahead = (int)Math.Ceiling(Math.Max(0, -alignSamples));
        frames = alignSamples + ahead;
        delay = new StereoDelay((int)Math.Ceiling(frames), isFractional: alignSamples != Math.Floor(alignSamples));
        LatencyFrames = delay.LatencyFrames + ahead;
        delay.Jump(frames);
    }

    /// <summary>Frames of latency it declares: what it delays by, less the alignment.</summary>
    public int LatencyFrames { get; }

    public override void Run(in PlanBlock block) =>
        delay.Process(buffer.Left.AsSpan(0, block.Frames), buffer.Right.AsSpan(0, block.Frames));

    public override void Reset() => delay.Jump(frames);
}
