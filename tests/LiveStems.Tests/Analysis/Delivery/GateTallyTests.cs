using LiveStems.Analysis.Delivery;
using Xunit;

namespace LiveStems.Tests.Analysis.Delivery;

public sealed class GateTallyTests
{
    [Fact]
    public void ThreeSamplesAtFullScaleAreClippedAcrossBlocksToo()
    {
        float top = (32_768f - 1) / 32_768;
        Assert.Equal(3, FirstClipped([0, 0.5f, 0, top], [top, -1, 0, 0]));
        Assert.Equal(2, FirstClipped([0, 0, top, top, -1], [-1, -1, top, top]));
        Assert.Null(FirstClipped([0, top, top, 0], [top, top, 0, -1]));
    }

    private static long? FirstClipped(params float[][] blocks)
    {
        GateTally tally = new(48_000, 16);
        foreach (float[] block in blocks)
        {
            tally.Add(block, block, block, block);
        }

        return tally.FirstClippedFrame;
    }
}
