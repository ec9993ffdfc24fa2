using LiveStems.Processing.Processors.Compressor;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Processing.Compressor;

public class KeyTests
{
    private const int SampleRate = 48_000;

    [Fact]
    public void AnExternalKeyMovesTheGainAndIsNotHeard()
    {
        float[] sound = TestSignals.Square(SampleRate, 48, 0.01);
        float[] key = new float[SampleRate];
        TestSignals.Square(24_000, 480, 1).CopyTo(key, 12_000);
        CompressorProcessor compressor = Hard();
        (float[] left, _) = ProcessorRun.Through(compressor, sound, sound, key);
        Assert.Equal(sound[..12_000], left[..12_000]);
        Assert.Equal(-15, 20 * Math.Log10(left[35_000] / sound[35_000]), 0.01);
        Assert.Equal(0, 20 * Math.Log10(left[^1] / sound[^1]), 0.05);
    }

    [Fact]
    public void TheKeyHighPassKeepsABassFromMovingTheGain()
    {
        float[] bass = TestSignals.Sine(SampleRate, 50, SampleRate, 0.8);
        (float[] open, _) = ProcessorRun.Through(Hard(), bass, bass);
        (float[] filtered, _) = ProcessorRun.Through(Hard(("keyHighPass", 1), ("keyHighPassHz", 500)), bass, bass);

        // 12 dB/oct from 500 Hz: 50 Hz is 40 dB down, at −42 dB and below the threshold of −20 dB.
        Assert.Equal(bass[24_000..], filtered[24_000..]);
        Assert.True(open.AsSpan(24_000).ToArray().Max() < 0.3);
    }

    [Fact]
    public void TheKeyHighPassLeavesTheSoundItselfAlone()
    {
        float[] bass = TestSignals.Sine(SampleRate, 30, SampleRate, 0.05);
        (float[] left, _) = ProcessorRun.Through(Hard(("keyHighPass", 1)), bass, bass);
        Assert.Equal(bass, left);
    }

    [Theory]
    [InlineData(100)]
    [InlineData(50)]
    [InlineData(0)]
    public void TheLinkSharesTheDeeperReduction(double linkPercent)
    {
        // Left 0 dB: 15 dB of reduction; right −12 dB: 6 dB. Linked by p, the right gets 6 + 9 p.
        float[] loud = TestSignals.Square(SampleRate, 48);
        float[] soft = TestSignals.Square(SampleRate, 48, Math.Pow(10, -12 / 20.0));
        (float[] left, float[] right) = ProcessorRun.Through(Hard(("linkPercent", linkPercent)), loud, soft);
        Assert.Equal(-15, 20 * Math.Log10(left[^1] / loud[^1]), 0.01);
        Assert.Equal(-6 - 9 * linkPercent / 100, 20 * Math.Log10(right[^1] / soft[^1]), 0.01);
    }

    [Fact]
    public void LookAheadDelaysTheSoundAndNotTheKey()
    {
        float[] signal = [.. TestSignals.Square(4800, 48, 0.01), .. TestSignals.Square(4800, 48)];
        CompressorProcessor compressor = Hard(("lookAhead", 2), ("attackMs", 0.5));
        Assert.Equal(96, compressor.LatencyFrames);
        (float[] left, _) = ProcessorRun.Through(compressor, signal, signal);

        // 2 ms before the loud part the gain starts to move; after four time constants it is 98 % there.
        Assert.Equal(signal[4700], left[4796]);
        double gainDb = 20 * Math.Log10(left[4800 + 96] / signal[4800]);
        Assert.InRange(gainDb, -15, -14.6);
    }

    private static CompressorProcessor Hard(params (string, double)[] more) => ProcessorRun.Prepared<CompressorProcessor>(
        SampleRate,
        [("thresholdDb", -20), ("ratio", 4), ("kneeDb", 0), ("attackMs", 1), ("releaseMs", 20), .. more]);
}
