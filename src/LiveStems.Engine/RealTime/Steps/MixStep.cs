namespace LiveStems.Engine.RealTime.Steps;

/// <summary>Sums all paths, always in the same order.</summary>
internal sealed class MixStep(BranchOutput[] inputs, StereoBuffer output) : PlanStep
{
    private int inputsAhead;
    private StereoBuffer[] sumsAhead = [];

    /// <summary>What it sums, in order.</summary>
    public IReadOnlyList<BranchOutput> Inputs => inputs;

    /// <summary>
    /// From now on the first inputs are summed by <see cref="RunAhead"/>, on the thread that made them and still has them at
    /// hand: one sum then changes over to the thread of the song bus in place of all. The order of the sum stays. 0 ends it.
    /// </summary>
    /// <param name="count">How many inputs.</param>
    /// <param name="sums">Room for a sum of each block under way.</param>
    public void SumAhead(int count, StereoBuffer[] sums) => (inputsAhead, sumsAhead) = (count, sums);

    /// <summary>Sums the inputs that <see cref="SumAhead"/> named, for a block.</summary>
    public void RunAhead(in PlanBlock block)
    {
        StereoBuffer sum = sumsAhead[block.Side];
        sum.Left.AsSpan(0, block.Frames).Clear();
        sum.Right.AsSpan(0, block.Frames).Clear();
        Add(inputs.AsSpan(0, inputsAhead), sum, block);
    }

    public override void Run(in PlanBlock block)
    {
        Span<float> left = output.Left.AsSpan(0, block.Frames);
        Span<float> right = output.Right.AsSpan(0, block.Frames);
        if (inputsAhead > 0)
        {
            StereoBuffer sum = sumsAhead[block.Side];
            sum.Left.AsSpan(0, block.Frames).CopyTo(left);
            sum.Right.AsSpan(0, block.Frames).CopyTo(right);
        }
        else
        {
            left.Clear();
            right.Clear();
        }

        Add(inputs.AsSpan(inputsAhead), output, block);
    }

    public override void Reset()
    {
        foreach (BranchOutput input in inputs)
        {
            input.Gain.Arrive();
        }
    }

    private static void Add(ReadOnlySpan<BranchOutput> some, StereoBuffer sum, in PlanBlock block)
    {
        Span<float> left = sum.Left.AsSpan(0, block.Frames);
        Span<float> right = sum.Right.AsSpan(0, block.Frames);
        foreach (BranchOutput input in some)
        {
            StereoBuffer source = input.Side(block.Side);
            input.Gain.Receive();
            input.Gain.Add(source.Left.AsSpan(0, block.Frames), source.Right.AsSpan(0, block.Frames), left, right);
        }
    }
}
