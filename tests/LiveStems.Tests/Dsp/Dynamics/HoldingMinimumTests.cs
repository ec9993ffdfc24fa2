using LiveStems.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Dsp.Dynamics;

public class HoldingMinimumTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(17)]
    [InlineData(100)]
    public void FindsTheLowestOfTheWindow(int window)
    {
        float[] samples = TestSignals.WhiteNoise(2000, window);
        HoldingMinimum minimum = new(100);
        float[] found = [.. samples];
        minimum.Process(found.AsSpan(0, 700), window);
        minimum.Process(found.AsSpan(700), window);
        for (int n = 0; n < samples.Length; n++)
        {
            Assert.Equal(samples[Math.Max(0, n - window + 1)..(n + 1)].Min(), found[n]);
        }
    }
}
