using LiveStems.Dsp.Loudness;
using LiveStems.Processing.Processors.Compressor;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Processing.Compressor;

public class AutomaticMakeUpTests
{
    private const int SampleRate = 48_000;

    [Theory]
    [InlineData(-20, 2, 0)]
    [InlineData(-30, 4, 0)]
    [InlineData(-35, 10, 1)]
    public void LoudnessComesOutAsItWentIn(double thresholdDb, double ratio, double topology)
    {
        float[] left = TestSignals.MusicLike(30 * SampleRate, 1, 0.5);
        float[] right = TestSignals.MusicLike(30 * SampleRate, 2, 0.5);
        CompressorProcessor compressor = ProcessorRun.Prepared<CompressorProcessor>(
            SampleRate, ("thresholdDb", thresholdDb), ("ratio", ratio), ("topology", topology), ("attackMs", 5), ("autoMakeUp", 1));
        (float[] outLeft, float[] outRight) = ProcessorRun.Through(compressor, left, right);
        double before = Loudness(left, right);
        double after = Loudness(outLeft, outRight);
        Assert.True(compressor.GainReductionDb < -2, "the compressor works");
        Assert.Equal(before, after, 0.3);
    }

    [Fact]
    public void ItMovesSlowly()
    {
        float[] signal = TestSignals.Square(SampleRate, 480, 0.5);
        CompressorProcessor compressor = ProcessorRun.Prepared<CompressorProcessor>(
            SampleRate, ("thresholdDb", -20), ("ratio", 4), ("attackMs", 1), ("autoMakeUp", 1));
        (float[] left, _) = ProcessorRun.Through(compressor, signal, signal);

        // Reduction settles in a few ms; from then on one-pole of 500 ms towards 10.5 dB: at most 10.5/24000 dB a sample.
        for (int n = 4800; n < left.Length; n++)
        {
            Assert.InRange(20 * Math.Log10(Math.Abs(left[n] / left[n - 1])), -0.0005, 0.0005);
        }
    }

    [Fact]
    public void SwitchedOffItFadesToTheSetGain()
    {
        float[] signal = TestSignals.Square(SampleRate, 480, 0.5);
        CompressorProcessor compressor = ProcessorRun.Prepared<CompressorProcessor>(
            SampleRate, ("thresholdDb", -20), ("ratio", 4), ("kneeDb", 0), ("attackMs", 1), ("autoMakeUp", 1));
        ProcessorRun.Through(compressor, signal, signal);
        compressor.SetParameter(compressor.Description.IndexOf("autoMakeUp"), 0);
        (float[] left, _) = ProcessorRun.Through(compressor, signal, signal);
        Assert.Equal(-0.75 * (20 + 20 * Math.Log10(0.5)), 20 * Math.Log10(left[4800] / signal[4800]), 0.01);
        for (int n = 1; n < left.Length; n++)
        {
            // Half of about 10 dB in the first interval of 32 frames.
            Assert.InRange(20 * Math.Log10(Math.Abs(left[n] / left[n - 1])), -0.2, 0.01);
        }
    }

    // The first ten seconds, in which the gain finds its place, do not count.
    private static double Loudness(float[] left, float[] right)
    {
        LoudnessMeter meter = new(SampleRate);
        meter.Add(left.AsSpan(10 * SampleRate), right.AsSpan(10 * SampleRate));
        return meter.IntegratedLufs;
    }
}
