using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.Limiter;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Processing.Limiter;

public class MeterTests
{
    private const int SampleRate = 48_000;

    [Fact]
    public void GainReductionIsThatOfTheFramesThatComeOut()
    {
        float[] tone = TestSignals.Sine(SampleRate, 1000, SampleRate, 2);
        LimiterProcessor limiter = ProcessorRun.Prepared<LimiterProcessor>(SampleRate, ("ceilingDbtp", -1));
        ProcessorRun.Through(limiter, tone, tone);

        // 6.0206 dB over full scale and 1 dB below, plus the first stage's margin of 0.03 dB.
        Assert.Equal(-7.0206, limiter.GainReductionDb, 0.04);
    }

    [Fact]
    public void PeakBeforeLimitingIsTheTruePeakWithInputGain()
    {
        // A sine of a quarter of the rate at 45° shows samples 3.01 dB below its peak.
        float[] tone = TestSignals.Sine(SampleRate, SampleRate / 4.0, SampleRate, 0.5, Math.PI / 4);
        LimiterProcessor limiter = ProcessorRun.Prepared<LimiterProcessor>(SampleRate, ("inputGainDb", 6));
        (float[] left, float[] right) = ([.. tone], [.. tone]);
        limiter.Process(new StereoBlock(left.AsSpan(0, 8192), right.AsSpan(0, 8192)));
        limiter.Process(new StereoBlock(left.AsSpan(8192, 8192), right.AsSpan(8192, 8192)));
        Assert.Equal(0.5 * Math.Pow(10, 0.3), limiter.PeakBeforeLimiting, 0.005);
    }

    [Theory]
    [InlineData(100)]
    [InlineData(30)]
    public void BlocksDoNotMatter(double linkPercent)
    {
        float[] left = TestSignals.MusicLike(20_000, 1, 2);
        float[] right = TestSignals.RandomSigns(20_000, 2, 0.7);
        (float[] wholeLeft, float[] wholeRight) = Run(8192);
        foreach (int block in new[] { 1, 7, 64, 511 })
        {
            (float[] outLeft, float[] outRight) = Run(block);
            Assert.Equal(wholeLeft, outLeft);
            Assert.Equal(wholeRight, outRight);
        }

        (float[], float[]) Run(int block) => ProcessorRun.Through(
            ProcessorRun.Prepared<LimiterProcessor>(SampleRate, ("inputGainDb", 3), ("linkPercent", linkPercent)), left, right, block);
    }

    [Fact]
    public void BlocksDoNotMatterWhileTheLinkAndTheCeilingMove()
    {
        float[] left = TestSignals.MusicLike(24_000, 1, 2);
        float[] right = TestSignals.MusicLike(24_000, 2, 2);
        (float[] wholeLeft, float[] wholeRight) = Run(2000);
        foreach (int block in new[] { 1, 10, 125 })
        {
            (float[] outLeft, float[] outRight) = Run(block);
            Assert.Equal(wholeLeft, outLeft);
            Assert.Equal(wholeRight, outRight);
        }

        (float[], float[]) Run(int block)
        {
            LimiterProcessor limiter = ProcessorRun.Prepared<LimiterProcessor>(SampleRate);
            (float[] l, float[] r) = ([], []);
            double[] links = [100, 20, 100, 100, 0, 100];
            for (int part = 0; part < links.Length; part++)
            {
                limiter.SetParameter(limiter.Description.IndexOf("linkPercent"), links[part]);
                limiter.SetParameter(limiter.Description.IndexOf("ceilingDbtp"), -part);
                int start = part * 4000;
                (float[] a, float[] b) = ProcessorRun.Through(limiter, left[start..(start + 4000)], right[start..(start + 4000)], block);
                (l, r) = ([.. l, .. a], [.. r, .. b]);
            }

            return (l, r);
        }
    }
}
