using LiveStems.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Dsp.Dynamics;

public class InterSamplePeakTests
{
    // Filters: 0.006 dB (Kaiser β 6), 0.001, 0.012 and 0.001 dB; the grid of sixteenths misses 20 log cos(π f/16 fs).
    [Theory]
    [InlineData(0.01)]
    [InlineData(0.1)]
    [InlineData(0.25)]
    [InlineData(0.35)]
    [InlineData(0.417)]
    [InlineData(0.46)]
    public void AToneReadsItsAmplitude(double frequency)
    {
        InterSamplePeak peak = new(64, 6, false, 4096);
        float[] peaks = new float[4096 + 8];
        peak.Process(TestSignals.Sine(4096, frequency, 1, 0.5, 0.3), 0, peaks);
        double highest = peaks.AsSpan(1000, 2900).ToArray().Max();
        double missed = 20 * Math.Log10(Math.Cos(Math.PI * frequency / 16));
        Assert.InRange(20 * Math.Log10(highest / 0.5), missed - 0.01, 0.02);
    }

    [Fact]
    public void MusicLikeNoiseReadsWhatTheLongMeterReads()
    {
        // White noise has 2 % of its power where the two filters' transitions differ: 1 % of its peak is generous.
        float[] signal = [.. new float[200], .. TestSignals.MusicLike(3000, 7), .. new float[200]];
        InterSamplePeak peak = new(64, 6, false, 4096);
        float[] peaks = new float[4096 + 8];
        peak.Process(signal, 0, peaks);
        double expected = SixteenfoldPeakMeter.Peak(signal);
        Assert.InRange(peaks.Max(), expected * 0.99, expected * 1.01);
    }

    [Fact]
    public void BlocksDoNotMatter()
    {
        float[] signal = TestSignals.RandomSigns(4000, 1);
        float[] whole = Run(signal, 256);
        foreach (int block in new[] { 1, 7, 33, 64, 255 })
        {
            Assert.Equal(whole, Run(signal, block));
        }
    }

    [Fact]
    public void SoundBelowTwentyKilohertzGetsNoAllowance()
    {
        float[] tone = TestSignals.Sine(4000, 19_000, 48_000, 0.5);
        float[] plain = Run(tone, 256, allows: false);
        float[] allowed = Run(tone, 256, allows: true);
        for (int i = 500; i < tone.Length; i++)
        {
            // 1.5 times the ripples of both filters (Kaiser β 6: 63 dB each): 0.2 % of the tone, that is 0.018 dB.
            Assert.InRange(allowed[i] - plain[i], 0, 0.001);
        }
    }

    [Fact]
    public void SoundAtTheBandEdgeGetsAnAllowance()
    {
        float[] tone = TestSignals.Sine(4000, 23_500, 48_000, 0.5);
        float[] plain = Run(tone, 256, allows: false);
        float[] allowed = Run(tone, 256, allows: true);
        Assert.True(allowed.AsSpan(1000).ToArray().Max() > 1.2 * plain.AsSpan(1000).ToArray().Max());
    }

    private static float[] Run(float[] signal, int block, bool allows = true)
    {
        InterSamplePeak peak = new(48, 6, allows, 256);
        float[] all = new float[signal.Length];
        float[] some = new float[264];
        for (int start = 0; start < signal.Length; start += block)
        {
            int frames = Math.Min(block, signal.Length - start);
            peak.Process(signal.AsSpan(start, frames), 0.8f, some);
            some.AsSpan(0, frames).CopyTo(all.AsSpan(start));
        }

        return all;
    }
}
