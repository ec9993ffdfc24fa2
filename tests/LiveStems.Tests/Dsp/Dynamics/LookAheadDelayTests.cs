using LiveStems.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Dsp.Dynamics;

public class LookAheadDelayTests
{
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(31)]
    [InlineData(500)]
    public void EverySampleComesOutExactlyLater(int samples)
    {
        float[] input = TestSignals.WhiteNoise(1500, 1);
        float[] output = [.. input];
        LookAheadDelay delay = new(samples);
        for (int start = 0, run = 1; start < output.Length; start += run, run = run * 3 % 97 + 1)
        {
            delay.Process(output.AsSpan(start, Math.Min(run, output.Length - start)));
        }

        Assert.All(output[..samples], value => Assert.Equal(0, value));
        Assert.Equal(input[..^samples], output[samples..]);
    }
}
