using LiveStems.View.Plots;
using Xunit;

namespace LiveStems.Tests.View.Plots;

/// <summary>What went by is kept in columns of equal length, however often pictures come.</summary>
public sealed class ColumnPaceTests
{
    [Fact]
    public void TheDeepestOfSeveralPicturesStandsInTheirColumn()
    {
        ColumnPace pace = new(64, 360);
        Assert.Equal(0, pace.Take(-1, 1 / 256.0).Columns);
        Assert.Equal(0, pace.Take(-9, 1 / 256.0).Columns);
        Assert.Equal(0, pace.Take(-2, 1 / 256.0).Columns);
        Assert.Equal((1, -9), pace.Take(-3, 1 / 256.0));
        Assert.Equal((1, -4), pace.Take(-4, 1 / 64.0));
    }

    [Fact]
    public void SlowPicturesFillSeveralColumnsAndNeverMoreThanThereAre()
    {
        ColumnPace pace = new(64, 360);
        Assert.Equal((2, -5), pace.Take(-5, 1 / 32.0));
        Assert.Equal((360, -6), pace.Take(-6, 100));
        pace.Take(-9, 1 / 256.0);
        pace.Clear();
        Assert.Equal((1, 0), pace.Take(0, 1 / 64.0));
    }
}
