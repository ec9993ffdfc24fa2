using LiveStems.Dsp;
using LiveStems.Processing.Processors.TransientShaper;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Processing.TransientShaper;

public class TransientShaperTests
{
    private const int SampleRate = 48_000;

    [Theory]
    [InlineData(12, 12)]
    [InlineData(-12, 6)]
    [InlineData(6, -12)]
    public void TwelveDecibelsLessInGiveTheSameGain(double attackDb, double sustainDb)
    {
        float[] loud = TestSignals.Gated(TestSignals.MusicLike(2 * SampleRate, 8, 0.5), 9000, 5000);
        float quieter = (float)Decibels.ToAmplitude(-12);
        float[] quiet = [.. loud.Select(x => x * quieter)];
        float[] loudOut = Shaped(loud, attackDb, sustainDb);
        float[] quietOut = Shaped(quiet, attackDb, sustainDb);
        double largest = 0;
        for (int n = 0; n < loud.Length; n++)
        {
            if (Math.Abs(quiet[n]) > 1e-4)
            {
                double difference = Decibels.FromAmplitude(loudOut[n] / (double)loud[n]) - Decibels.FromAmplitude(quietOut[n] / (double)quiet[n]);
                largest = Math.Max(largest, Math.Abs(difference));
            }
        }

        Assert.InRange(largest, 0, 0.01);
    }

    // 20 attack constants after the onset nothing of it is left.
    [Theory]
    [InlineData(50)]
    [InlineData(100)]
    [InlineData(997)]
    [InlineData(10_000)]
    public void SteadyTonesAreLeftAlone(double frequencyHz)
    {
        float[] tone = TestSignals.Sine(2 * SampleRate, frequencyHz, SampleRate, 0.3);
        float[] output = Shaped(tone, 12, 12);
        for (int n = SampleRate; n < tone.Length; n++)
        {
            Assert.Equal(tone[n], output[n], 1e-4f);
        }
    }

    // The followers' answers to a jump, solved in continuous time: f = 1 − e^(−t/τf), s = 1 − (τs e^(−t/τs) −
    // τf e^(−t/τf)) / (τs − τf). One frame (1/48 ms) of time moves the gain by less than 0.02 dB.
    [Theory]
    [InlineData(2)]
    [InlineData(10)]
    [InlineData(25)]
    [InlineData(60)]
    public void OnsetGainFollowsTheTwoFollowers(double milliseconds)
    {
        const double Rise = 0.3, Slow = 25;
        float[] jump = new float[SampleRate];
        Array.Fill(jump, 0.25f, 10_000, jump.Length - 10_000);
        float[] output = Shaped(jump, 12, 0);
        double f = 1 - Math.Exp(-milliseconds / Rise);
        double s = 1 - (Slow * Math.Exp(-milliseconds / Slow) - Rise * Math.Exp(-milliseconds / Rise)) / (Slow - Rise);
        int frame = 10_000 + (int)(milliseconds * SampleRate / 1000);
        Assert.Equal(12 * Weight(Decibels.FromAmplitude(f / s)), Decibels.FromAmplitude(output[frame] / 0.25), 0.02);
    }

    // A decay with 50 ms, seen 12.5 ms late by the peak window; the fast follower (5 ms) and the held one (200 ms) solved as
    // sums of exponentials.
    [Theory]
    [InlineData(40)]
    [InlineData(80)]
    [InlineData(150)]
    public void TailGainFollowsTheTwoFollowers(double milliseconds)
    {
        const double Decay = 50, Fall = 5, Held = 200;
        float[] sound = new float[2 * SampleRate];
        for (int n = 0; n < sound.Length; n++)
        {
            sound[n] = 0.5f * (float)Math.Exp(-Math.Max(0, n - SampleRate) / (Decay / 1000 * SampleRate));
        }

        float[] output = Shaped(sound, 0, 12);
        double f1 = Decay / (Decay - Fall), f2 = 1 - f1;
        double h1 = f1 * Decay / (Decay - Held), h2 = f2 * Fall / (Fall - Held);
        double f = f1 * Math.Exp(-milliseconds / Decay) + f2 * Math.Exp(-milliseconds / Fall);
        double h = h1 * Math.Exp(-milliseconds / Decay) + h2 * Math.Exp(-milliseconds / Fall) + (1 - h1 - h2) * Math.Exp(-milliseconds / Held);
        int frame = SampleRate + (int)((milliseconds + 12.5) * SampleRate / 1000);
        Assert.Equal(12 * Weight(Decibels.FromAmplitude(h / f)), Decibels.FromAmplitude(output[frame] / (double)sound[frame]), 0.02);
    }

    [Fact]
    public void KeyHighPassKeepsBassDrumsFromBeingShaped()
    {
        float[] bass = TestSignals.Gated(TestSignals.Sine(SampleRate, 50, SampleRate, 0.5), 4800, 4800);
        float[] plain = Shaped(bass, 12, 0);
        TransientShaperProcessor filtered = ProcessorRun.Prepared<TransientShaperProcessor>(
            SampleRate, ("attackDb", 12), ("keyHighPass", 1), ("keyHighPassHz", 5000));
        Assert.True(plain.Max() > 1.5 * bass.Max());

        // What the gate's own step leaves above 5 kHz still shapes; the bass itself, once it runs, does not.
        (float[] output, _) = ProcessorRun.Through(filtered, bass, bass);
        for (int n = 4800 + 3600; n < 9600; n++)
        {
            Assert.Equal(bass[n], output[n], 0.25f * Math.Abs(bass[n]) + 1e-6f);
        }
    }

    private static double Weight(double differenceDb) => differenceDb * differenceDb / (differenceDb * differenceDb + 36);

    private static float[] Shaped(float[] sound, double attackDb, double sustainDb)
    {
        TransientShaperProcessor processor = ProcessorRun.Prepared<TransientShaperProcessor>(
            SampleRate, ("attackDb", attackDb), ("sustainDb", sustainDb), ("attackMs", 25), ("sustainMs", 200));
        return ProcessorRun.Through(processor, sound, sound).Left;
    }
}
