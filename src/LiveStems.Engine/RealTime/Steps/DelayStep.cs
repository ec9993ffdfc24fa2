namespace LiveStems.Engine.RealTime.Steps;

/// <summary>Delays a buffer in place by a fixed number of frames.</summary>
internal sealed class DelayStep(StereoBuffer buffer, int frames) : PlanStep
{
    private readonly StereoDelayLine delay = new(frames);

    public override void Run(in PlanBlock block) =>
        delay.Process(buffer.Left.AsSpan(0, block.Frames), buffer.Right.AsSpan(0, block.Frames));

    public override void Reset() => delay.Reset();
}
