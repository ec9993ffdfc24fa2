using LiveStems.Dsp.Spectral;
using Xunit;

namespace LiveStems.Tests.Dsp.Spectral;

public class PartitionedConvolverTests
{
    [Theory]
    [InlineData(32, 1)]
    [InlineData(64, 100)]
    [InlineData(128, 128)]
    [InlineData(128, 129)]
    [InlineData(256, 5000)]
    [InlineData(1024, 4096)]
    [InlineData(512, 65_536)]
    public void OutputIsThePlainConvolutionOnePartitionLater(int partition, int taps)
    {
        float[] leftTaps = Taps(taps, 1);
        float[] rightTaps = Taps(taps, 2);
        float[] left = Noise(3000, 3);
        float[] right = Noise(3000, 4);
        PartitionedConvolver convolver = new(Filter(partition, leftTaps), Filter(partition, rightTaps));
        Assert.Equal(partition, convolver.LatencyFrames);
        (float[] leftOutput, float[] rightOutput) = Run(convolver, left, right, 700);
        AssertConvolved(left, leftTaps, leftOutput, partition);
        AssertConvolved(right, rightTaps, rightOutput, partition);
    }

    [Fact]
    public void OutputHasTheSameBitsForAnyBlocks()
    {
        float[] left = Noise(4000, 5);
        float[] right = Noise(4000, 6);
        ConvolutionFilter filter = Filter(128, Taps(1000, 7));
        (float[] leftWhole, float[] rightWhole) = Run(new PartitionedConvolver(filter, filter), left, right, 4000);
        foreach (int block in (int[])[1, 63, 64, 127, 128, 129, 1000])
        {
            (float[] leftOutput, float[] rightOutput) = Run(new PartitionedConvolver(filter, filter), left, right, block);
            Assert.Equal(leftWhole, leftOutput);
            Assert.Equal(rightWhole, rightOutput);
        }
    }

    [Fact]
    public void ResetIsAsIfFromSilence()
    {
        float[] noise = Noise(2000, 8);
        ConvolutionFilter filter = Filter(64, Taps(500, 9));
        PartitionedConvolver convolver = new(filter, filter);
        (float[] first, _) = Run(convolver, noise, noise, 333);
        convolver.Reset();
        Assert.Equal(first, Run(convolver, noise, noise, 333).Left);
    }

    [Fact]
    public void OtherFiltersFadeInOverOnePartition()
    {
        const int partition = 64;
        float[] ones = [.. Enumerable.Repeat(1f, 6 * partition)];
        ConvolutionFilter first = Filter(partition, [1, 0]);
        ConvolutionFilter second = Filter(partition, [3, 0]);
        PartitionedConvolver convolver = new(first, first);
        Run(convolver, ones, ones, 2 * partition);
        convolver.Use(second, first);
        Assert.True(convolver.IsFading);
        (float[] left, float[] right) = Run(convolver, ones, ones, 50);
        Assert.False(convolver.IsFading);
        for (int n = 0; n < left.Length; n++)
        {
            // One partition of what was heard already, one of fading, then the other filter.
            double share = Math.Clamp((n - partition + 1) / (double)partition, 0, 1);
            Assert.Equal(1 + 2 * share, left[n], 1e-5);
            Assert.Equal(1, right[n], 1e-5);
        }
    }

    [Fact]
    public void ShorterTapsForgetTheLongerOnes()
    {
        ConvolutionFilter filter = new(64, 1000);
        filter.SetTaps(Taps(1000, 10));
        filter.SetTaps([1]);
        float[] noise = Noise(1000, 11);
        AssertConvolved(noise, [1], Run(new PartitionedConvolver(filter, filter), noise, noise, 100).Left, 64);
    }

    [Fact]
    public void NothingIsAllocatedWhileSoundRunsOrTapsChange()
    {
        float[] taps = Taps(1000, 12);
        ConvolutionFilter first = Filter(64, taps);
        ConvolutionFilter second = Filter(64, taps);
        PartitionedConvolver convolver = new(first, first);
        float[] block = new float[500];
        long before = GC.GetAllocatedBytesForCurrentThread();
        convolver.Process(block, block);
        second.SetTaps(taps);
        convolver.Use(second, second);
        convolver.Process(block, block);
        convolver.Reset();
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    [Fact]
    public void FiltersThatDoNotFitAreRefused()
    {
        ConvolutionFilter filter = new(64, 100);
        PartitionedConvolver convolver = new(filter, filter);
        Assert.Throws<ArgumentException>(() => convolver.Use(new ConvolutionFilter(128, 100), filter));
        Assert.Throws<ArgumentException>(() => convolver.Use(filter, new ConvolutionFilter(64, 101)));
        Assert.Throws<ArgumentOutOfRangeException>(() => filter.SetTaps(new float[101]));
        Assert.Throws<ArgumentOutOfRangeException>(() => new ConvolutionFilter(48, 100));
        Assert.Throws<ArgumentOutOfRangeException>(() => new ConvolutionFilter(64, 0));
    }

    private static ConvolutionFilter Filter(int partition, float[] taps)
    {
        ConvolutionFilter filter = new(partition, taps.Length);
        filter.SetTaps(taps);
        return filter;
    }

    private static float[] Noise(int frames, int seed)
    {
        Random random = new(seed);
        return [.. Enumerable.Range(0, frames).Select(_ => (float)(random.NextDouble() * 2 - 1))];
    }

    /// <summary>Noise with a sum of squares of about 1.</summary>
    private static float[] Taps(int count, int seed)
    {
        float[] taps = Noise(count, seed);
        double energy = Math.Sqrt(taps.Sum(tap => (double)tap * tap));
        return [.. taps.Select(tap => (float)(tap / energy))];
    }

    private static (float[] Left, float[] Right) Run(PartitionedConvolver convolver, float[] left, float[] right, int block)
    {
        float[] leftOutput = [.. left];
        float[] rightOutput = [.. right];
        for (int at = 0; at < left.Length; at += block)
        {
            int frames = Math.Min(block, left.Length - at);
            convolver.Process(leftOutput.AsSpan(at, frames), rightOutput.AsSpan(at, frames));
        }

        return (leftOutput, rightOutput);
    }

    // Transforms round by about 2⁻²⁴·√(log2 N) of a signal around 1, some five times in all: far below −115 dB.
    private static void AssertConvolved(float[] input, float[] taps, float[] output, int latency)
    {
        for (int n = 0; n < output.Length; n += 7)
        {
            double sum = 0;
            for (int k = 0; k < taps.Length && n - latency - k >= 0; k++)
            {
                sum += (double)taps[k] * input[n - latency - k];
            }

            Assert.Equal(sum, output[n], Math.Pow(10, -115 / 20.0));
        }
    }
}
