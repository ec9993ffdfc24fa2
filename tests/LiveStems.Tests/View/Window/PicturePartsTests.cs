using LiveStems.View.Window;
using Xunit;

namespace LiveStems.Tests.View.Window;

public sealed class PicturePartsTests
{
    [Fact]
    public void SlowPicturesAreCountedAndTheLongestIsTold()
    {
        PictureParts parts = new();
        parts.Set(PicturePart.Update, 0.002);
        parts.Close();
        parts.Set(PicturePart.Paint, 0.15);
        parts.Close();
        Assert.Equal(1, parts.Slow);
        Assert.Contains("the longest 150 ms", parts.ToString(), StringComparison.Ordinal);
        parts.Clear();
        Assert.Equal(0, parts.Slow);
        Assert.Equal("no picture", parts.ToString());
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(2, 1)]
    [InlineData(8, 7)]
    public void SoftwareOpenGlLeavesACoreToTheSound(int cores, int threads) => Assert.Equal(threads, SoftwareOpenGl.ThreadsFor(cores));
}
