namespace LiveStems.Engine.RealTime.Steps;

/// <summary>Copies a buffer, delayed by a fixed number of frames: the feed of a parallel or the key of a processor.</summary>
internal sealed class CopyStep(StereoBuffer source, StereoBuffer destination, int delayFrames) : PlanStep
{
    private readonly StereoDelayLine delay = new(delayFrames);

    public override void Run(in PlanBlock block)
    {
        Span<float> left = destination.Left.AsSpan(0, block.Frames);
        Span<float> right = destination.Right.AsSpan(0, block.Frames);
        source.Left.AsSpan(0, block.Frames).CopyTo(left);
        source.Right.AsSpan(0, block.Frames).CopyTo(right);
        delay.Process(left, right);
    }

    public override void Reset() => delay.Reset();
}
