using LiveStems.Dsp.Simd;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Dsp.Simd;

public sealed class ExactSumTests
{
    // Not a multiple of the vectors' lengths.
    private const int Frames = 1003;

    [Fact]
    public void TheOrderDoesNotMatter()
    {
        double[] forwards = Sum([.. Enumerable.Range(1, 10).Select(Sound)]);
        double[] backwards = Sum([.. Enumerable.Range(1, 10).Reverse().Select(Sound)]);
        Assert.Equal(forwards, backwards);
    }

    [Fact]
    public void ASoundThatIsTakenAwayLeavesNothing()
    {
        double[] sum = Sum([Sound(1), Sound(2), Sound(3)]);
        ExactSum.Subtract(Sound(2), sum);
        Assert.Equal(Sum([Sound(3), Sound(1)]), sum);
    }

    [Fact]
    public void TwoSinglesHoldTheSumExactly()
    {
        double[] sum = Sum([.. Enumerable.Range(1, 10).Select(Sound)]);
        float[] nearest = new float[Frames];
        float[] rest = new float[Frames];
        ExactSum.Round(sum, nearest);
        ExactSum.Rest(sum, rest);
        Assert.Equal(sum, Sum([nearest, rest]));
        Assert.Equal(sum.Select(value => (float)value), nearest);
    }

    [Fact]
    public void SamplesAreHeldToHalfOfTheGrid()
    {
        float[] sound = Sound(4);
        double[] sum = Sum([sound]);
        double half = Math.ScaleB(1, -41);
        Assert.All(sound.Zip(sum), pair => Assert.True(Math.Abs(pair.First - pair.Second) <= half));
    }

    private static double[] Sum(IReadOnlyList<float[]> sounds)
    {
        double[] sum = new double[Frames];
        foreach (float[] sound in sounds)
        {
            ExactSum.Add(sound, sum);
        }

        return sum;
    }

    // From full scale down to what singles hardly hold.
    private static float[] Sound(int seed) => [.. Noise.White(Frames, seed, 1).Select((value, index) => value * MathF.Pow(10, -index % 13))];
}
