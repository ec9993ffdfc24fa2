namespace LiveStems.Engine.RealTime.Steps;

/// <summary>Sums all paths, always in the same order.</summary>
internal sealed class MixStep(BranchOutput[] inputs, StereoBuffer output) : PlanStep
{
    public override void Run(in PlanBlock block)
    {
        Span<float> left = output.Left.AsSpan(0, block.Frames);
        Span<float> right = output.Right.AsSpan(0, block.Frames);
        left.Clear();
        right.Clear();
        foreach (BranchOutput input in inputs)
        {
            StereoBuffer source = input.Side(block.Side);
            input.Gain.Receive();
            input.Gain.Add(source.Left.AsSpan(0, block.Frames), source.Right.AsSpan(0, block.Frames), left, right);
        }
    }

    public override void Reset()
    {
        foreach (BranchOutput input in inputs)
        {
            input.Gain.Arrive();
        }
    }
}
