using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.Compressor;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Processing.Compressor;

public class SafetyTests
{
    private const int SampleRate = 48_000;

    [Theory]
    [InlineData(0, 0, 100, 0)]
    [InlineData(1, 0, 100, 0)]
    [InlineData(0, 1, 40, 1)]
    [InlineData(1, 1, 0, 1)]
    public void BlocksDoNotMatter(double topology, double detector, double linkPercent, double autoMakeUp)
    {
        float[] left = TestSignals.MusicLike(20_000, 1);
        float[] right = TestSignals.MusicLike(20_000, 2);
        (float[] wholeLeft, float[] wholeRight) = Run(8192);
        foreach (int block in new[] { 1, 7, 64, 511 })
        {
            (float[] outLeft, float[] outRight) = Run(block);
            Assert.Equal(wholeLeft, outLeft);
            Assert.Equal(wholeRight, outRight);
        }

        (float[], float[]) Run(int block) => ProcessorRun.Through(
            ProcessorRun.Prepared<CompressorProcessor>(
                SampleRate,
                ("thresholdDb", -40), ("ratio", 5), ("topology", topology), ("detector", detector), ("linkPercent", linkPercent),
                ("autoMakeUp", autoMakeUp), ("autoRelease", topology), ("keyHighPass", detector), ("lookAhead", 1)),
            left,
            right,
            block);
    }

    [Fact]
    public void AnExternalKeyThatIsNoNumberDoesNoHarm()
    {
        float[] sound = TestSignals.Square(4800, 48, 0.1);
        float[] key = new float[4800];
        key[100] = float.NaN;
        key[200] = float.PositiveInfinity;
        foreach (double filtered in new[] { 0.0, 1 })
        {
            foreach (double detector in new[] { 0.0, 1 })
            {
                CompressorProcessor compressor = ProcessorRun.Prepared<CompressorProcessor>(
                    SampleRate, ("keyHighPass", filtered), ("detector", detector), ("attackMs", 1), ("releaseMs", 5));
                (float[] left, _) = ProcessorRun.Through(compressor, sound, sound, key);
                Assert.All(left, value => Assert.True(float.IsFinite(value)));
                Assert.Equal(sound[^1], left[^1], 1e-4);
            }
        }
    }

    [Fact]
    public void TheKeyIsReadBeforeTheSoundIsWritten()
    {
        // The key of a sound without one of its own is the same memory.
        float[] signal = TestSignals.MusicLike(4800, 1);
        CompressorProcessor own = ProcessorRun.Prepared<CompressorProcessor>(SampleRate, ("thresholdDb", -30));
        CompressorProcessor copied = ProcessorRun.Prepared<CompressorProcessor>(SampleRate, ("thresholdDb", -30));
        (float[] expected, _) = ProcessorRun.Through(copied, signal, signal, signal);
        (float[] left, _) = ProcessorRun.Through(own, signal, signal);
        Assert.Equal(expected, left);
    }

    [Theory]
    [InlineData(8_000)]
    [InlineData(44_100)]
    [InlineData(384_000)]
    public void EverySampleRateWorks(int sampleRate)
    {
        float[] square = TestSignals.Square(sampleRate, 48);
        CompressorProcessor compressor = ProcessorRun.Prepared<CompressorProcessor>(
            sampleRate, ("thresholdDb", -20), ("ratio", 4), ("kneeDb", 0), ("lookAhead", 4), ("attackMs", 1));
        Assert.Equal(sampleRate / 100, compressor.LatencyFrames);
        (float[] left, _) = ProcessorRun.Through(compressor, square, square);
        Assert.All(left, value => Assert.True(float.IsFinite(value)));
        Assert.Equal(-15, 20 * Math.Log10(Math.Abs(left[^1])), 0.01);
    }

    [Fact]
    public void TheMeterShowsTheDeepestReductionOfTheLastCall()
    {
        CompressorProcessor compressor = ProcessorRun.Prepared<CompressorProcessor>(
            SampleRate, ("thresholdDb", -20), ("ratio", 4), ("attackMs", 0.05), ("releaseMs", 5));
        float[] loud = TestSignals.Square(480, 48);
        compressor.Process(new StereoBlock(loud, [.. loud]));
        Assert.Equal(-15, compressor.GainReductionDb, 0.05);
        float[] silence = new float[8192];
        compressor.Process(new StereoBlock(silence, new float[8192]));
        compressor.Process(new StereoBlock(silence, new float[8192]));
        Assert.Equal(0, compressor.GainReductionDb, 0.001);
    }
}
