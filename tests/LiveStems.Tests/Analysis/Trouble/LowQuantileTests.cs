using LiveStems.Analysis.Trouble;
using Xunit;

namespace LiveStems.Tests.Analysis.Trouble;

public class LowQuantileTests
{
    [Fact]
    public void SelectsWhatSortingWouldSelect()
    {
        Random random = new(3);
        LowQuantile quantile = new(200, 0.3);
        for (int round = 0; round < 200; round++)
        {
            float[] values = [.. Enumerable.Range(0, random.Next(1, 200)).Select(_ => (float)random.Next(20))];
            Assert.Equal(values.Order().ElementAt((int)(0.3 * (values.Length - 1))), quantile.Of(values));
        }
    }

    [Fact]
    public void TableOfTimeKeepsItsMemoryAndItsMeans()
    {
        TimeTable table = new(1, 0.1);
        for (int frame = 0; frame < 3 * TimeTable.Capacity; frame++)
        {
            table.Add([frame % 2 == 0 ? 2f : 4f]);
        }

        Assert.True(table.Rows < TimeTable.Capacity);
        Assert.Equal(3, table.Row(0)[0]);
        Assert.Equal(3 * TimeTable.Capacity, table.Rows * table.FramesPerRow);
        Assert.Equal(0.1 * table.FramesPerRow, table.RowSeconds, 1e-9);
    }
}
