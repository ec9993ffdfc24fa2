using LiveStems.Dsp.Filters;
using Xunit;

namespace LiveStems.Tests.Dsp.Filters;

public class LinearRampTests
{
    [Fact]
    public void RampArrivesOnItsLastFrameInEqualSteps()
    {
        LinearRamp ramp = default;
        ramp.Jump(1);
        ramp.MoveTo(3, 4);
        Assert.Equal([1.5, 2.0, 2.5, 3.0, 3.0], [.. Enumerable.Range(0, 5).Select(_ => ramp.Next())]);
        Assert.False(ramp.IsMoving);
    }

    [Fact]
    public void NewTargetStartsFromWhereTheValueIs()
    {
        LinearRamp ramp = default;
        ramp.Jump(0);
        ramp.MoveTo(1, 4);
        ramp.Next();
        ramp.MoveTo(-0.75, 2);
        Assert.Equal(-0.25, ramp.Next());
        Assert.Equal(-0.75, ramp.Next());
    }

    [Fact]
    public void GainOfOnePassesEveryBit()
    {
        LinearRamp ramp = default;
        ramp.Jump(1);
        float[] left = [float.NaN, 1e-42f], right = [-0f, 7];
        ramp.Multiply(left, right);
        Assert.Equal([float.NaN, 1e-42f], left);
        Assert.Equal([-0f, 7], right);
    }

    [Fact]
    public void BlocksDoNotMatter()
    {
        float[] whole = [.. Enumerable.Range(0, 100).Select(n => 0.01f * n)], parts = [.. whole];
        LinearRamp a = default, b = default;
        a.Jump(1);
        b.Jump(1);
        a.MoveTo(0.3, 64);
        b.MoveTo(0.3, 64);
        a.Multiply(whole, new float[100]);
        for (int n = 0; n < 100; n += 5)
        {
            b.Multiply(parts.AsSpan(n, 5), new float[5]);
        }

        Assert.Equal(whole, parts);
    }
}
