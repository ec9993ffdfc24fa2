using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.GainAndAlignment;
using Xunit;

namespace LiveStems.Tests.Processing.GainAndAlignment;

public class GainProcessorTests
{
    private static GainProcessor Prepared(params (string Id, double Value)[] settings)
    {
        GainProcessor processor = new();
        foreach ((string id, double value) in settings)
        {
            processor.SetParameter(processor.Description.IndexOf(id), value);
        }

        processor.Prepare(new ProcessingFormat(48_000, 8192));
        return processor;
    }

    [Fact]
    public void NewProcessorPassesEveryBit()
    {
        float[] left = [.. Enumerable.Range(0, 500).Select(n => MathF.Sin(n))];
        float[] right = [.. left.Select(x => x / 3)];
        float[] leftOut = [.. left], rightOut = [.. right];
        Prepared().Process(new StereoBlock(leftOut, rightOut));
        Assert.Equal(left, leftOut);
        Assert.Equal(right, rightOut);
    }

    [Fact]
    public void WholeDelayMovesTheSoundByWholeFrames()
    {
        float[] left = new float[500], right = new float[500];
        left[3] = 1;
        right[4] = 0.5f;
        Prepared(("delaySamples", 100)).Process(new StereoBlock(left, right));
        Assert.Equal(1, left[103]);
        Assert.Equal(0.5f, right[104]);
        Assert.Equal(1, left.Sum());
    }

    [Fact]
    public void SwapExchangesTheSidesAndInvertTurnsTheOutputOver()
    {
        float[] left = [0.25f], right = [0.5f];
        Prepared(("swap", 1), ("invertLeft", 1)).Process(new StereoBlock(left, right));
        Assert.Equal(-0.5f, left[0]);
        Assert.Equal(0.25f, right[0]);
    }
}
