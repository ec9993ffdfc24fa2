using LiveStems.Dsp;
using LiveStems.Processing.Processors.ResonanceSuppressor;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Processing.ResonanceSuppressor;

public class TransparencyTests
{
    private const int SampleRate = 48_000;

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public void SoundWhereNothingStandsOutComesThroughUntouched(int resolution)
    {
        // At a selectivity of 20 dB neither noise nor its chance peaks stand out.
        float[] sound = PinkNoise.Make(4 * SampleRate, 5, 0.1);
        float[] output = Through(sound, ("resolution", resolution), ("depthPercent", 100), ("selectivityDb", 20));
        Assert.True(ErrorDb(sound, output) < -100, $"{ErrorDb(sound, output):0.0} dB");
    }

    [Fact]
    public void EvenSpectraComeThroughUntouchedAtEverySelectivity()
    {
        float[] sound = TestSignals.Clicks(2 * SampleRate, 9001, 0.9);
        float[] output = Through(sound, ("depthPercent", 100), ("selectivityDb", 1));
        Assert.True(ErrorDb(sound, output) < -100, $"{ErrorDb(sound, output):0.0} dB");
    }

    [Fact]
    public void SteadyNoiseIsHardlyTouchedAtDefaultSelectivity()
    {
        float[] sound = PinkNoise.Make(10 * SampleRate, 6, 0.1);
        float[] output = Through(sound);
        double[] before = AveragedSpectrum.Of(sound, 2048, _ => true);
        double[] after = AveragedSpectrum.Of(output, 2048, _ => true);
        for (int bin = 20; bin < 900; bin += 10)
        {
            double change = Decibels.FromPower(AveragedSpectrum.Mean(after, bin, 5) / AveragedSpectrum.Mean(before, bin, 5));
            Assert.InRange(change, -0.1, 0.1);
        }
    }

    // Bursts of 5 to 100 ms out of silence and out of a faint bed: chance peaks of a single frame stand up to 10 dB out,
    // but not for long.
    [Theory]
    [InlineData(0)]
    [InlineData(0.02)]
    public void BurstsOfNoiseKeepTheirPeaks(double bedLevel)
    {
        int[] lengths = [240, 960, 2400, 4800];
        float[] sound = PinkNoise.Make(8 * SampleRate, 9, Math.Max(bedLevel, 1e-9));
        Random random = new(11);
        for (int burst = 0; burst < 16; burst++)
        {
            for (int n = 0; n < lengths[burst % 4]; n++)
            {
                sound[4000 + burst * 23_000 + n] += (float)(0.8 * (2 * random.NextDouble() - 1));
            }
        }

        float[] output = Through(sound, ("depthPercent", 100));
        for (int burst = 0; burst < 16; burst++)
        {
            Range around = (3000 + burst * 23_000)..(10_000 + burst * 23_000);
            double change = Decibels.FromAmplitude(output[around].Max(Math.Abs) / (double)sound[around].Max(Math.Abs));
            Assert.True(change > -0.3, $"burst {burst}: {change:0.00} dB");
        }
    }

    [Fact]
    public void ClicksKeepTheirPeaks()
    {
        float[] bed = PinkNoise.Make(4 * SampleRate, 12, 0.01);
        float[] clicks = TestSignals.Clicks(4 * SampleRate, 7001, 0.8);
        float[] sound = [.. bed.Zip(clicks, (a, b) => a + b)];
        float[] output = Through(sound, ("depthPercent", 100));
        for (int at = 3500; at < sound.Length; at += 7001)
        {
            Assert.True(Math.Abs(Decibels.FromAmplitude(output[at] / (double)sound[at])) < 0.3);
        }
    }

    [Fact]
    public void SharedCutHoldsTheStereoImage()
    {
        // A partial on the left only: linked, both channels of the bed are cut alike there; unlinked, the right one is left alone.
        float[] bed = PinkNoise.Make(4 * SampleRate, 13, 0.05);
        float[] tone = TestSignals.Sine(bed.Length, 3000, SampleRate, 0.02);
        float[] left = [.. bed.Zip(tone, (a, b) => a + b)];
        ResonanceSuppressorProcessor linked = ProcessorRun.Prepared<ResonanceSuppressorProcessor>(SampleRate, ("linkPercent", 100));
        ResonanceSuppressorProcessor unlinked = ProcessorRun.Prepared<ResonanceSuppressorProcessor>(SampleRate, ("linkPercent", 0));
        double apart = Decibels.FromPower(PowerAtTone(ProcessorRun.Through(unlinked, left, bed).Right) / PowerAtTone(bed));
        double together = Decibels.FromPower(PowerAtTone(ProcessorRun.Through(linked, left, bed).Right) / PowerAtTone(bed));
        Assert.InRange(apart, -0.5, 0.5);
        Assert.True(together < -4, $"{together:0.00} dB");
    }

    private static double PowerAtTone(float[] sound) => AveragedSpectrum.Mean(AveragedSpectrum.Of(sound, 2048, frame => frame > SampleRate), 128, 1);

    private static float[] Through(float[] sound, params (string, double)[] settings)
    {
        ResonanceSuppressorProcessor processor = ProcessorRun.Prepared<ResonanceSuppressorProcessor>(SampleRate, settings);
        float[] padded = [.. sound, .. new float[processor.LatencyFrames]];
        return ProcessorRun.Through(processor, padded, padded).Left[processor.LatencyFrames..];
    }

    private static double ErrorDb(float[] sound, float[] output)
    {
        double error = 0, power = 0;
        for (int n = 0; n < sound.Length; n++)
        {
            error += Math.Pow(output[n] - sound[n], 2);
            power += Math.Pow(sound[n], 2);
        }

        return Decibels.FromPower(error / power);
    }
}
