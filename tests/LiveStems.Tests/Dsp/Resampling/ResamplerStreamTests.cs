using LiveStems.Dsp.Resampling;
using Xunit;

namespace LiveStems.Tests.Dsp.Resampling;

public class ResamplerStreamTests
{
    [Theory]
    [MemberData(nameof(Resample.PairsAtBothPaces), MemberType = typeof(Resample))]
    public void OutputHasTheSameBitsForAnyBlocks(int fromRate, int toRate, ResamplingPace pace)
    {
        float[] left = Resample.Noise(20_000, 5);
        float[] right = Resample.Noise(20_000, 6);
        (float[] leftWhole, float[] rightWhole) = Resample.All(fromRate, toRate, left, right, pace);
        foreach ((int inputBlock, int outputBlock) in ((int, int)[])[(1, 1), (1, 8192), (8192, 1), (7, 5), (64, 63), (513, 4)])
        {
            StreamingResampler resampler = new(fromRate, toRate, pace);
            (float[] leftOutput, float[] rightOutput) = Pull(resampler, left, right, 0, inputBlock, outputBlock);
            Assert.Equal(leftWhole, leftOutput);
            Assert.Equal(rightWhole, rightOutput);
        }
    }

    [Theory]
    [MemberData(nameof(Resample.PairsAtBothPaces), MemberType = typeof(Resample))]
    public void StreamEnteredAnywhereHasTheBitsOfTheWhole(int fromRate, int toRate, ResamplingPace pace)
    {
        float[] left = Resample.Noise(20_000, 7);
        float[] right = Resample.Noise(20_000, 8);
        (float[] leftWhole, float[] rightWhole) = Resample.All(fromRate, toRate, left, right, pace);
        StreamingResampler resampler = new(fromRate, toRate, pace);
        int last = leftWhole.Length - 1;
        foreach (int entry in (int[])[last, 0, 1, 2, 3, 4, 101, last / 2, last / 3 + 1, last - 1])
        {
            int first = (int)resampler.Reset(entry);
            Assert.Equal(entry, resampler.Position);
            Assert.Equal(first, resampler.InputPosition);
            (float[] leftOutput, float[] rightOutput) = Pull(resampler, left, right, first, 100, 100);
            Assert.Equal(leftWhole[entry..], leftOutput);
            Assert.Equal(rightWhole[entry..], rightOutput);
        }
    }

    [Fact]
    public void EntryBeyondTheEndGivesNothing()
    {
        StreamingResampler resampler = new(96_000, 44_100);
        long first = resampler.Reset(1_000_000);
        Assert.True(first > 1_000_000);
        resampler.Finish();
        Assert.True(resampler.IsFinished);
        resampler.Process([], [], new float[8], new float[8], out _, out int produced);
        Assert.Equal(0, produced);
    }

    [Theory]
    [InlineData(ResamplingPace.Blocks)]
    [InlineData(ResamplingPace.Even)]
    public void EntryDaysLaterIsStillExact(ResamplingPace pace)
    {
        // A billion seconds on, positions are whole numbers still: a tone of 1400 cycles a second is that of the first second,
        // but for the rounding of blocks that begin elsewhere.
        StreamingResampler resampler = new(44_100, 48_000, pace);
        float[] early = Hear(resampler, 48_000);
        float[] late = Hear(resampler, 48_000_000_000_000);
        for (int i = 0; i < early.Length; i++)
        {
            Assert.Equal(early[i], late[i], Math.Pow(2, -24));
        }
    }

    [Theory]
    [InlineData(48_000, 44_100, ResamplingPace.Blocks)]
    [InlineData(44_101, 48_000, ResamplingPace.Blocks)]
    [InlineData(384_000, 48_000, ResamplingPace.Blocks)]
    [InlineData(8_000, 96_000, ResamplingPace.Blocks)]
    [InlineData(48_000, 44_100, ResamplingPace.Even)]
    [InlineData(44_101, 48_000, ResamplingPace.Even)]
    public void NothingIsAllocatedAfterConstruction(int fromRate, int toRate, ResamplingPace pace)
    {
        StreamingResampler resampler = new(fromRate, toRate, pace);
        float[] input = new float[5000];
        float[] output = new float[700];
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 20; i++)
        {
            resampler.Process(input, input, output, output, out _, out _);
        }

        resampler.Finish();
        resampler.Process(input, input, output, output, out _, out _);
        resampler.Reset(12_345);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    [Fact]
    public void ShorterRightSpansAreRefused()
    {
        StreamingResampler resampler = new(48_000, 44_100);
        float[] frames = new float[8];
        Assert.Throws<ArgumentOutOfRangeException>(
            () => resampler.Process(frames, frames.AsSpan(1), frames, frames, out _, out _));
        Assert.Throws<ArgumentOutOfRangeException>(
            () => resampler.Process(frames, frames, frames, frames.AsSpan(1), out _, out _));
    }

    [Fact]
    public void ChannelsDoNotMeet()
    {
        float[] noise = Resample.Noise(3000, 9);
        (float[] left, float[] right) = Resample.All(48_000, 44_100, noise, new float[3000]);
        Assert.All(right, sample => Assert.Equal(0, sample));
        Assert.Equal(left, Resample.All(48_000, 44_100, new float[3000], noise).Right);
    }

    private static float[] Hear(StreamingResampler resampler, long entry)
    {
        float[] output = new float[2000];
        long next = resampler.Reset(entry);
        int produced = 0;
        while (produced < output.Length)
        {
            float sample = (float)(0.5 * Math.Sin(2 * Math.PI * 1400 * (next % 44_100) / 44_100));
            resampler.Process([sample], [sample], output.AsSpan(produced), new float[output.Length], out int consumed, out int made);
            next += consumed;
            produced += made;
        }

        return output;
    }

    private static (float[] Left, float[] Right) Pull(
        StreamingResampler resampler, float[] left, float[] right, int fedFrom, int inputBlock, int outputBlock)
    {
        List<float> leftOutput = [];
        List<float> rightOutput = [];
        float[] leftBlock = new float[outputBlock];
        float[] rightBlock = new float[outputBlock];
        int fed = Math.Min(fedFrom, left.Length);
        while (!resampler.IsFinished)
        {
            int offered = Math.Min(inputBlock, left.Length - fed);
            resampler.Process(
                left.AsSpan(fed, offered), right.AsSpan(fed, offered), leftBlock, rightBlock, out int consumed, out int produced);
            fed += consumed;
            leftOutput.AddRange(leftBlock.AsSpan(0, produced));
            rightOutput.AddRange(rightBlock.AsSpan(0, produced));
            if (fed == left.Length)
            {
                resampler.Finish();
            }
        }

        return ([.. leftOutput], [.. rightOutput]);
    }
}
