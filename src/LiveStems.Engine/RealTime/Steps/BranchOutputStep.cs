namespace LiveStems.Engine.RealTime.Steps;

/// <summary>
/// Ends a path: delays it so that all paths meet aligned on the song bus, and hands it over in the block's set of
/// outputs.
/// </summary>
internal sealed class BranchOutputStep(StereoBuffer source, BranchOutput output, int delayFrames) : PlanStep
{
    private readonly StereoDelayLine delay = new(delayFrames);

    /// <summary>Where it hands over.</summary>
    public BranchOutput Output => output;

    public override void Run(in PlanBlock block)
    {
        StereoBuffer destination = output.Side(block.Side);
        Span<float> left = destination.Left.AsSpan(0, block.Frames);
        Span<float> right = destination.Right.AsSpan(0, block.Frames);
        source.Left.AsSpan(0, block.Frames).CopyTo(left);
        source.Right.AsSpan(0, block.Frames).CopyTo(right);
        delay.Process(left, right);
    }

    public override void Reset() => delay.Reset();
}
