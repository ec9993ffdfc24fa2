using LiveStems.Dsp.Resampling;
using LiveStems.Engine.Devices;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

public class ResamplingRendererTests
{
    private const int Block = 256;

    [Theory]
    [InlineData(44_100, 48_000)]
    [InlineData(48_000, 44_100)]
    [InlineData(96_000, 44_100)]
    public void ItSoundsAsTheWholeSignalConvertedAtOnceForAnyBlocks(int sourceRate, int deviceRate)
    {
        const int Wanted = 20_000;
        NoiseRenderer reference = new();
        float[] left = new float[(Wanted * 3L * sourceRate / deviceRate / 2) + 4096];
        float[] right = new float[left.Length];
        reference.Render(left, right);
        float[] leftExpected = new float[Wanted];
        float[] rightExpected = new float[Wanted];
        new StreamingResampler(sourceRate, deviceRate, ResamplingPace.Even).Process(left, right, leftExpected, rightExpected, out _, out int produced);
        Assert.Equal(Wanted, produced);

        ResamplingRenderer renderer = new(new NoiseRenderer(), sourceRate, deviceRate, Block);
        Random random = new(5);
        float[] leftOutput = new float[Wanted];
        float[] rightOutput = new float[Wanted];
        for (int done = 0; done < Wanted;)
        {
            int frames = Math.Min(random.Next(1, Block + 1), Wanted - done);
            renderer.Render(leftOutput.AsSpan(done, frames), rightOutput.AsSpan(done, frames));
            done += frames;
        }

        Assert.Equal(leftExpected, leftOutput);
        Assert.Equal(rightExpected, rightOutput);
    }

    [Fact]
    public void TheSourceIsAskedForNoMoreThanItsLimitAndStaysCloseAhead()
    {
        CountingRenderer source = new();
        ResamplingRenderer renderer = new(source, 44_100, 48_000, Block);
        float[] left = new float[Block];
        float[] right = new float[Block];
        for (int i = 0; i < 1000; i++)
        {
            renderer.Render(left, right);
        }

        Assert.InRange(source.LongestCall, 1, Block);

        // 256 frames at 48 kHz are 235.2 at 44.1 kHz: 1000 calls need 235,200 and what the filter looks ahead.
        double aheadFrames = source.Frames - 235_200;
        Assert.Equal(aheadFrames / 44_100, renderer.AheadSeconds, 1e-9);
        Assert.InRange(aheadFrames, 0, 150 + 32);

        // Portions of 32 frames: seldom more than one call for each of ours.
        Assert.InRange(source.Calls, 1000, 1100);
    }

    [Fact]
    public void RenderingAllocatesNothing()
    {
        ResamplingRenderer renderer = new(new NoiseRenderer(), 44_100, 96_000, Block);
        float[] left = new float[Block];
        float[] right = new float[Block];
        renderer.Render(left, right);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 100; i++)
        {
            renderer.Render(left, right);
        }

        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    [Fact]
    public void EqualRatesNeedNoConversion()
    {
        CountingRenderer source = new();
        Assert.Same(source, ResamplingRenderer.Adapt(source, 48_000, 48_000, Block));
        Assert.IsType<ResamplingRenderer>(ResamplingRenderer.Adapt(source, 44_100, 48_000, Block));
    }

    private sealed class NoiseRenderer : IAudioRenderer
    {
        private readonly Random random = new(11);

        public void Render(Span<float> left, Span<float> right)
        {
            for (int i = 0; i < left.Length; i++)
            {
                left[i] = random.NextSingle() - 0.5f;
                right[i] = random.NextSingle() - 0.5f;
            }
        }
    }
}
