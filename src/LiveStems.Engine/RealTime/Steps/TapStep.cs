namespace LiveStems.Engine.RealTime.Steps;

/// <summary>Lets a tap point see a buffer as it is at this place of the plan; changes nothing.</summary>
internal sealed class TapStep(StereoBuffer source, TapPoint point) : PlanStep
{
    public override void Run(in PlanBlock block) =>
        point.Add(source.Left.AsSpan(0, block.Frames), source.Right.AsSpan(0, block.Frames));

    public override void Reset() => point.TakePeaks();
}
