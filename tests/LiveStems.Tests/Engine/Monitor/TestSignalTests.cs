using System.Numerics;
using LiveStems.Engine.Monitor;
using MathNet.Numerics.IntegralTransforms;
using Xunit;

namespace LiveStems.Tests.Engine.Monitor;

public class TestSignalTests
{
    [Theory]
    [InlineData(44_100)]
    [InlineData(48_000)]
    [InlineData(96_000)]
    [InlineData(192_000)]
    public void ToneIsOneKilohertzAtMinusTwentyToTheLastBit(int sampleRate)
    {
        MonitorPath path = MonitorRun.With(MonitorRun.Plain with { Signal = MonitorSignal.Tone }, sampleRate);
        float[] silence = new float[3 * sampleRate];
        (float[] left, float[] right) = MonitorRun.Through(path, silence, silence, 512);
        Assert.Equal(left, right);
        int latency = LimiterLatency(sampleRate);
        for (int i = latency; i < left.Length; i++)
        {
            long turns = 1000L * (i - latency) % sampleRate;
            Assert.Equal((float)(0.1 * Math.Sin(2 * Math.PI * turns / sampleRate)), left[i], 1e-15f);
        }
    }

    [Theory]
    [InlineData(44_100)]
    [InlineData(48_000)]
    [InlineData(96_000)]
    [InlineData(192_000)]
    public void PinkSlopeFollowsTheInverseOfFrequency(int sampleRate)
    {
        PinkSlope slope = new(sampleRate);
        double[] deviations = [.. Enumerable.Range(0, 1000)
            .Select(i => 20 * Math.Pow(0.985 * sampleRate / 2 / 20, i / 999.0))
            .Select(frequency => 10 * Math.Log10(slope.PowerAt(2 * Math.PI * frequency / sampleRate) * frequency))];

        // The fit's 0.003 dB, and the end of the ladder at 2 Hz: a pole there bends 20 Hz by 10 log(1 + 0.01 / 4).
        Assert.InRange(deviations.Max() - deviations.Min(), 0, 0.02);
    }

    [Theory]
    [InlineData(48_000)]
    [InlineData(96_000)]
    public void PinkNoiseIsFlatInThirdOctavesAndAtMinusTwenty(int sampleRate)
    {
        float[] noise = Noise(sampleRate, 60);
        double[] power = PowerSpectrum(noise, 1 << 17);
        double binHz = (double)sampleRate / (1 << 17);

        // IEC 61260-1:2014: fm = 1000 · G^(x/3), edges fm · G^(±1/6), G = 10^0.3 (REFERENCES section 7).
        double[] levels = [.. Enumerable.Range(-16, 30).Select(x =>
        {
            double middle = 1000 * Math.Pow(10, 0.1 * x);
            return 10 * Math.Log10(Band(power, middle * Math.Pow(10, -0.05) / binHz, middle * Math.Pow(10, 0.05) / binHz));
        })];
        double mean = levels.Skip(10).Average();
        for (int i = 0; i < levels.Length; i++)
        {
            // ±0.5 dB is what the ear's reference asks for; a band's reading itself scatters by 4.34 / √(B T).
            Assert.Equal(mean, levels[i], 0.5);
            double bandwidth = 0.2308 * 1000 * Math.Pow(10, 0.1 * (i - 16));
            Assert.Equal(mean, levels[i], 0.12 + 3 * 4.34 / Math.Sqrt(bandwidth * 60));
        }

        // Power of pink noise from 8 Hz scatters by 4.34 √(1/(8 Hz · 60 s)) / ln(26 000/8) = 0.025 dB; four of those.
        double rms = 10 * Math.Log10(noise.Average(x => (double)x * x));
        Assert.Equal(-20, rms, 0.1);
        Assert.InRange(noise.Average(x => (double)x), -1e-4, 1e-4);
    }

    [Fact]
    public void PinkNoiseIsTheSameEveryTimeAndOnBothSides()
    {
        MonitorPath path = MonitorRun.With(MonitorRun.Plain with { Signal = MonitorSignal.PinkNoise });
        float[] silence = new float[48_000];
        (float[] left, float[] right) = MonitorRun.Through(path, silence, silence, 480);
        path.Reset();
        (float[] again, _) = MonitorRun.Through(path, silence, silence, 97);
        Assert.Equal(left, right);
        Assert.Equal(left, again);
    }

    [Fact]
    public void SignalTakesThePlaceOfTheMusicAndIsDimmed()
    {
        MonitorSettings settings = MonitorSettings.AtStart with { Signal = MonitorSignal.Tone, Channels = MonitorChannels.Side, DimDb = -14, LevelDb = -6 };
        float[] music = [.. Enumerable.Range(0, 48_000).Select(i => MathF.Sin(i * 0.05f))];
        (float[] left, float[] right) = MonitorRun.Through(MonitorRun.With(settings), music, music);
        Assert.Equal(left, right);
        Assert.Equal(0.01, left.TakeLast(4800).Max(), 1e-7);
        Assert.Equal(0.01 / Math.Sqrt(2), Math.Sqrt(left.TakeLast(4800).Average(x => (double)x * x)), 1e-7);
    }

    private static int LimiterLatency(int sampleRate) => new SafetyLimiter(sampleRate, 32, 480).LatencyFrames;

    private static float[] Noise(int sampleRate, int seconds)
    {
        PinkNoise generator = new(sampleRate);
        float[] noise = new float[sampleRate * seconds];
        generator.Fill(noise, new float[noise.Length]);
        return noise;
    }

    // Mean of periodograms under a Hann window, half overlapped.
    private static double[] PowerSpectrum(float[] samples, int length)
    {
        double[] power = new double[length / 2];
        Complex[] block = new Complex[length];
        for (int start = 0; start + length <= samples.Length; start += length / 2)
        {
            for (int i = 0; i < length; i++)
            {
                block[i] = samples[start + i] * (0.5 - 0.5 * Math.Cos(2 * Math.PI * i / length));
            }

            Fourier.Forward(block, FourierOptions.NoScaling);
            for (int k = 0; k < power.Length; k++)
            {
                power[k] += block[k].Real * block[k].Real + block[k].Imaginary * block[k].Imaginary;
            }
        }

        return power;
    }

    // Bins whole and in part; a bin reaches half a bin to each side.
    private static double Band(double[] power, double from, double to)
    {
        double sum = 0;
        for (int k = (int)from; k <= (int)to + 1; k++)
        {
            sum += power[k] * Math.Max(0, Math.Min(to, k + 0.5) - Math.Max(from, k - 0.5));
        }

        return sum;
    }
}
