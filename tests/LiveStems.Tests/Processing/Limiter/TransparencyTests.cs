using LiveStems.Processing.Processors.Limiter;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Processing.Limiter;

public class TransparencyTests
{
    private const int SampleRate = 48_000;

    [Theory]
    [InlineData(0)]
    [InlineData(2)]
    [InlineData(4)]
    public void SoundBelowTheCeilingComesOutBitForBitAfterTheLatency(int lookAhead)
    {
        float[] left = TestSignals.MusicLike(SampleRate, 1, 0.3);
        float[] right = TestSignals.MusicLike(SampleRate, 2, 0.3);
        LimiterProcessor limiter = ProcessorRun.Prepared<LimiterProcessor>(SampleRate, ("lookAhead", lookAhead));
        (float[] outLeft, float[] outRight) = ProcessorRun.Through(limiter, left, right);
        int latency = limiter.LatencyFrames;
        Assert.All(outLeft[..latency], value => Assert.Equal(0, value));
        Assert.Equal(left[..^latency], outLeft[latency..]);
        Assert.Equal(right[..^latency], outRight[latency..]);
        Assert.Equal(0, limiter.GainReductionDb);
    }

    // 40 Hz is where the gain just bridges from one half wave to the next; below, the release shows.
    [Theory]
    [InlineData(997, 1)]
    [InlineData(997, 6)]
    [InlineData(50, 3)]
    [InlineData(41, 1)]
    public void LimitingASineAddsLessThanMinusEightyDecibelsOfDistortion(int frequencyHz, double reductionDb)
    {
        // Over one second every whole number of hertz sits on a bin exactly; harmonics up to the 24th do too.
        float[] sine = TestSignals.Sine(4 * SampleRate, frequencyHz, SampleRate, Math.Pow(10, (reductionDb - 1) / 20));
        LimiterProcessor limiter = ProcessorRun.Prepared<LimiterProcessor>(SampleRate, ("ceilingDbtp", -1));
        (float[] left, _) = ProcessorRun.Through(limiter, sine, sine);
        ReadOnlySpan<float> second = left.AsSpan(2 * SampleRate, SampleRate);
        double fundamental = Bin(second, frequencyHz);
        Assert.Equal(-1, 20 * Math.Log10(fundamental), 0.05);
        double harmonics = 0;
        for (int k = 2; k <= 24; k++)
        {
            harmonics += Math.Pow(Bin(second, frequencyHz * k), 2);
        }

        Assert.True(20 * Math.Log10(Math.Sqrt(harmonics) / fundamental) < -80);
    }

    [Fact]
    public void LinkedChannelsKeepTheirBalance()
    {
        float[] left = TestSignals.MusicLike(SampleRate, 1, 3);
        float[] right = [.. TestSignals.MusicLike(SampleRate, 2, 0.7)];
        LimiterProcessor limiter = ProcessorRun.Prepared<LimiterProcessor>(SampleRate);
        (float[] outLeft, float[] outRight) = ProcessorRun.Through(limiter, left, right);
        int latency = limiter.LatencyFrames;
        for (int n = 0; n < SampleRate - latency; n++)
        {
            // Both are the input times one gain; two roundings each.
            double expected = (double)outLeft[n + latency] * right[n];
            Assert.Equal(expected, (double)outRight[n + latency] * left[n], Math.Abs(expected) * 4e-7 + 1e-12);
        }
    }

    [Fact]
    public void UnlinkedAQuietChannelIsLeftAlone()
    {
        float[] loud = TestSignals.MusicLike(SampleRate, 1, 3);
        float[] quiet = TestSignals.MusicLike(SampleRate, 2, 0.2);
        LimiterProcessor limiter = ProcessorRun.Prepared<LimiterProcessor>(SampleRate, ("linkPercent", 0));
        (_, float[] right) = ProcessorRun.Through(limiter, loud, quiet);
        Assert.Equal(quiet[..^limiter.LatencyFrames], right[limiter.LatencyFrames..]);
    }

    [Fact]
    public void AnIsolatedPeakIsLetGoSoonerThanADensePassage()
    {
        // 6 dB of reduction at 60 ms: alone it lasts 13 ms, and the fast stage meets the slow one at a ninth after 130 ms
        // (see BallisticsTests); after two seconds of bursts the slow stage holds nearly all and has 720 ms to go.
        Assert.InRange(ReductionAfter(160, bursts: 1), 0.5, 0.8);
        Assert.InRange(ReductionAfter(160, bursts: 200), 4, 5.5);

        static double ReductionAfter(int milliseconds, int bursts)
        {
            float[] tone = TestSignals.Sine(3 * SampleRate, 1000, SampleRate, 0.05);
            for (int burst = 0; burst < bursts; burst++)
            {
                int end = 2 * SampleRate - burst * 480;
                for (int n = end - 96; n < end; n++)
                {
                    tone[n] *= 40;
                }
            }

            LimiterProcessor limiter = ProcessorRun.Prepared<LimiterProcessor>(SampleRate, ("ceilingDbtp", 0));
            (float[] left, _) = ProcessorRun.Through(limiter, tone, tone);
            int from = 2 * SampleRate + milliseconds * 48;
            double peak = left.AsSpan(from + limiter.LatencyFrames, 480).ToArray().Max();
            return -20 * Math.Log10(peak / 0.05);
        }
    }

    // Amplitude of the sine in one bin, by the discrete Fourier sum itself.
    private static double Bin(ReadOnlySpan<float> signal, int bin)
    {
        double cosine = 0;
        double sine = 0;
        for (int n = 0; n < signal.Length; n++)
        {
            double angle = 2 * Math.PI * ((long)bin * n % signal.Length) / signal.Length;
            cosine += signal[n] * Math.Cos(angle);
            sine += signal[n] * Math.Sin(angle);
        }

        return 2 * Math.Sqrt(cosine * cosine + sine * sine) / signal.Length;
    }
}
