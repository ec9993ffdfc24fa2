using LiveStems.Dsp;
using LiveStems.Dsp.Nonlinear;
using LiveStems.Processing.Processors.SoftClipper;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Processing.SoftClipper;

public class SoftClipperTests
{
    private const int SampleRate = 44_100;

    [Theory]
    [InlineData(0, 0)]
    [InlineData(0, 3)]
    [InlineData(3, 0)]
    [InlineData(3, 6)]
    public void NoSamplePassesTheThresholdByMoreThanTheStatedBound(double choice, double kneeDb)
    {
        float[][] sounds =
        [
            TestSignals.Square(20_000, 441), TestSignals.RandomSigns(20_000, 4), TestSignals.WhiteNoise(20_000, 5),
            TestSignals.TurningAlternation(20_000, 41), TestSignals.Sweep(20_000, 20, 22_000, SampleRate),
        ];
        float bound = (float)(Decibels.ToAmplitude(-3 + SoftClipperProcessor.OvershootDb) * (1 + 1e-6));
        foreach (float[] sound in sounds)
        {
            SoftClipperProcessor processor = ProcessorRun.Prepared<SoftClipperProcessor>(
                SampleRate, ("thresholdDb", -3), ("kneeDb", kneeDb), ("inputGainDb", 12), ("oversampling", choice));
            Assert.True(ProcessorRun.Through(processor, sound, sound).Left.Max(Math.Abs) <= bound);
        }
    }

    // The slope has no jump, its derivative has: eight a period, each 4 / (2 (c − a)) = 5.7 at most, so harmonic n is below
    // 8 · 5.7 / (π n³) and the odd ones from 20 kHz on, which do not come back, add up to less than 2.3e-5.
    [Fact]
    public void SlowSineFollowsTheCurve()
    {
        float[] sine = TestSignals.Sine(SampleRate, 50, SampleRate);
        SoftClipperProcessor processor = ProcessorRun.Prepared<SoftClipperProcessor>(
            SampleRate, ("thresholdDb", -3), ("kneeDb", 6), ("inputGainDb", 6));
        SoftClipCurve curve = SoftClipCurve.FromDecibels(-3, 6);
        (float[] output, _) = ProcessorRun.Through(processor, sine, sine);
        for (int n = 2000; n < sine.Length; n++)
        {
            Assert.Equal(curve.Value(sine[n - processor.LatencyFrames] * Decibels.ToAmplitude(6)), output[n], 3e-5);
        }
    }

    [Fact]
    public void SoundBelowTheKneeComesBackUnchanged()
    {
        float[] sine = TestSignals.Sine(8192, 5000, SampleRate, Decibels.ToAmplitude(-7));
        SoftClipperProcessor processor = ProcessorRun.Prepared<SoftClipperProcessor>(SampleRate);
        (float[] output, _) = ProcessorRun.Through(processor, sine, sine);
        for (int n = 2000; n < sine.Length; n++)
        {
            Assert.Equal(sine[n - processor.LatencyFrames], output[n], 1e-5f * 0.447f);
        }

        Assert.Equal(0, processor.GainReductionDb);
    }

    [Fact]
    public void MeterShowsHowFarThePeaksWereTakenDown()
    {
        float[] sine = TestSignals.Sine(SampleRate, 100, SampleRate);
        SoftClipperProcessor processor = ProcessorRun.Prepared<SoftClipperProcessor>(SampleRate, ("thresholdDb", -3), ("kneeDb", 0), ("inputGainDb", 6));
        ProcessorRun.Through(processor, sine, sine, 44_100 / 4);
        Assert.Equal(-9, processor.GainReductionDb, 0.01);
    }
}
