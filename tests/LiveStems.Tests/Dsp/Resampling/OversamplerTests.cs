using LiveStems.Dsp;
using LiveStems.Dsp.Resampling;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Dsp.Resampling;

public class OversamplerTests
{
    private const int SampleRate = 44_100;
    private const int Chunk = 64;

    public static TheoryData<int, bool> Chains() => new()
    {
        { 1, false }, { 2, false }, { 3, false }, { 4, false }, { 1, true }, { 2, true }, { 3, true }, { 4, true },
    };

    // Symmetric taps whose impulse response is mirrored about the declared latency: linear phase, and the delay exact.
    [Theory]
    [MemberData(nameof(Chains))]
    public void ImpulseResponseIsMirroredAboutTheLatency(int doublings, bool followsMean)
    {
        Oversampler oversampler = new(doublings, followsMean, Chunk);
        int centre = oversampler.LatencyFrames;
        float[] impulse = new float[2 * centre + 1];
        impulse[0] = 1;
        float[] response = Through(oversampler, impulse, followsMean);
        for (int k = 1; k <= centre; k++)
        {
            Assert.Equal(response[centre - k], response[centre + k], 3e-7f);
        }

        Assert.Equal(1, response.Sum(x => (double)x), 1e-5);
    }

    // Ripple of a Kaiser window made for 120 dB: 1e-6 a filter. The droop of the mean is made good to the same degree.
    [Theory]
    [MemberData(nameof(Chains))]
    public void TonesUpToTwentyKilohertzComeBackUnchanged(int doublings, bool followsMean)
    {
        foreach (double frequency in new double[] { 100, 1000, 10_000, 19_900 })
        {
            Oversampler oversampler = new(doublings, followsMean, Chunk);
            float[] tone = TestSignals.Sine(4096, frequency, SampleRate, 0.5);
            float[] output = Through(oversampler, tone, followsMean);
            double error = 0;
            for (int n = 1000; n < tone.Length; n++)
            {
                error = Math.Max(error, Math.Abs(output[n] - tone[n - oversampler.LatencyFrames]));
            }

            Assert.True(Decibels.FromAmplitude(error / 0.5) < -100, $"{frequency} Hz: {Decibels.FromAmplitude(error / 0.5):0.0} dB");
        }
    }

    // A tone made at the high rate folds to where it must not be heard unless the way back stops it by 120 dB; float
    // arithmetic leaves another −140 dB.
    [Theory]
    [MemberData(nameof(Chains))]
    public void WhatLiesAboveTheBandIsStopped(int doublings, bool followsMean)
    {
        double highRate = SampleRate * (1 << doublings);
        for (double frequency = 24_100; frequency < highRate / 2; frequency *= 1.37)
        {
            double folded = Math.Abs(frequency - SampleRate * Math.Round(frequency / SampleRate));
            if (folded > 20_000)
            {
                continue;
            }

            Oversampler oversampler = new(doublings, followsMean, Chunk);
            float[] output = new float[2048];
            long time = 0;
            for (int start = 0; start < output.Length; start += Chunk)
            {
                Span<float> high = oversampler.Up(output.AsSpan(start, Chunk));
                for (int i = 0; i < high.Length; i++, time++)
                {
                    high[i] = (float)Math.Sin(2 * Math.PI * frequency * time / highRate);
                }

                oversampler.Down(output.AsSpan(start, Chunk));
            }

            double peak = output[512..].Max(Math.Abs);
            Assert.True(Decibels.FromAmplitude(peak) < -108, $"{frequency:0} Hz leaves {Decibels.FromAmplitude(peak):0.0} dB");
        }
    }

    [Theory]
    [MemberData(nameof(Chains))]
    public void BlocksDoNotMatter(int doublings, bool followsMean)
    {
        float[] noise = TestSignals.WhiteNoise(1000, 3);
        float[] whole = Through(new Oversampler(doublings, followsMean, Chunk), noise, followsMean);
        foreach (int block in new[] { 1, 3, 17 })
        {
            Oversampler oversampler = new(doublings, followsMean, Chunk);
            float previous = 0;
            float[] parts = [.. noise];
            for (int start = 0; start < parts.Length; start += block)
            {
                Span<float> part = parts.AsSpan(start, Math.Min(block, parts.Length - start));
                Run(oversampler, part, followsMean, ref previous);
            }

            Assert.Equal(whole, parts);
        }
    }

    private static float[] Through(Oversampler oversampler, float[] sound, bool takesMean)
    {
        float[] output = [.. sound];
        float previous = 0;
        for (int start = 0; start < output.Length; start += Chunk)
        {
            Run(oversampler, output.AsSpan(start, Math.Min(Chunk, output.Length - start)), takesMean, ref previous);
        }

        return output;
    }

    private static void Run(Oversampler oversampler, Span<float> part, bool takesMean, ref float previous)
    {
        Span<float> high = oversampler.Up(part);
        for (int i = 0; takesMean && i < high.Length; i++)
        {
            (high[i], previous) = ((high[i] + previous) / 2, high[i]);
        }

        oversampler.Down(part);
    }
}
