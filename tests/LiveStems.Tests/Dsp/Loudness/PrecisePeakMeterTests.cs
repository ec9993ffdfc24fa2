using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;
using Xunit;

namespace LiveStems.Tests.Dsp.Loudness;

public class PrecisePeakMeterTests
{
    [Theory]
    [InlineData(0.01)]
    [InlineData(0.1)]
    [InlineData(0.25)]
    [InlineData(0.3333)]
    [InlineData(0.4)]
    [InlineData(0.4167)]
    [InlineData(0.45)]
    public void ASteadyToneReadsItsAmplitudeAtEveryPhase(double frequency)
    {
        // 100 dB of stop band: 1e-5 of ripple, below 0.0001 dB; the parabola through a cosine's top 0.177 rad apart is off
        // by less than 0.177⁴ / 384 = 3e-6.
        for (int step = 0; step < 24; step++)
        {
            float[] tone = Tone(frequency, Math.PI * step / 24, 0.7);
            PrecisePeakMeter meter = new();
            meter.Add(tone, tone);
            Assert.Equal(Decibels.FromAmplitude(0.7), meter.TruePeakDbtp, 0.0005);
        }
    }

    [Fact]
    public void ReadingsDoNotDependOnBlockSize()
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 0.3, 1);
        PrecisePeakMeter whole = new();
        whole.Add(left, right);
        whole.Finish();
        foreach (int blockSize in (int[])[1, 7, 64, 4096])
        {
            PrecisePeakMeter cut = new();
            for (int start = 0; start < left.Length; start += blockSize)
            {
                int frames = Math.Min(blockSize, left.Length - start);
                cut.Add(left.AsSpan(start, frames), right.AsSpan(start, frames));
            }

            cut.Finish();
            Assert.Equal(whole.LeftTruePeakDbtp, cut.LeftTruePeakDbtp);
            Assert.Equal(whole.RightTruePeakDbtp, cut.RightTruePeakDbtp);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void LookingOnlyWhereACrestMayBeFindsWhatLookingEverywhereFinds(int seed)
    {
        // Held against every one of the sixteen values between all samples, the parabola's gain of up to 0.04 dB aside; the
        // crest lies where the samples themselves are low, as between two of them in noise near half the rate.
        (float[] left, _) = MovingNoise.Make(20_000, 0.3, seed);
        PrecisePeakMeter meter = new();
        meter.Add(left, left);
        meter.Finish();
        KaiserInterpolator interpolator = new();
        double[] window = new double[KaiserInterpolator.Taps];
        double[] values = new double[KaiserInterpolator.Phases];
        double largest = 0;
        for (int n = -KaiserInterpolator.Taps; n < left.Length; n++)
        {
            for (int k = 0; k < window.Length; k++)
            {
                window[k] = n + k >= 0 && n + k < left.Length ? left[n + k] : 0;
            }

            interpolator.Interpolate(window, values);
            largest = values.Max(value => Math.Max(Math.Abs(value), largest));
        }

        Assert.InRange(meter.TruePeakDbtp - Decibels.FromAmplitude(largest), -1e-9, 0.04);
    }

    [Fact]
    public void TheFastMeterDiffersByNoMoreThanItsGridAndItsInterpolator()
    {
        const double HighestFrequency = 0.4;
        const int Partials = 20;
        for (int seed = 1; seed <= 20; seed++)
        {
            float[] sound = BandLimited(HighestFrequency, Partials, seed);
            PrecisePeakMeter precise = new();
            precise.Add(sound, sound);
            TruePeakMeter fast = new();
            fast.Add(sound, sound);
            double peak = Decibels.ToAmplitude(precise.TruePeakDbtp);
            double reading = Decibels.ToAmplitude(fast.TruePeakDbtp);

            // Every partial (amplitude 1/20) is interpolated to 0.0072 of itself (0.062 dB); and a band-limited signal
            // falls from its peak no faster than a cosine of its highest frequency (Duffin and Schaeffer, from memory).
            const double InterpolationError = 0.0072;
            Assert.InRange(reading, peak * Math.Cos(Math.PI * HighestFrequency / 4) - InterpolationError, peak + InterpolationError);
        }
    }

    [Fact]
    public void FinishTakesInTheVeryLastSample()
    {
        float[] samples = new float[1000];
        samples[^1] = 0.25f;
        PrecisePeakMeter meter = new();
        meter.Add(samples, new float[1000]);
        Assert.Equal(double.NegativeInfinity, meter.RightTruePeakDbtp);
        meter.Finish();
        Assert.Equal(Decibels.FromAmplitude(0.25), meter.LeftTruePeakDbtp, 1e-9);
    }

    [Fact]
    public void ResetIsAsIfFromSilence()
    {
        float[] tone = Tone(0.11, 0.3, 0.9);
        PrecisePeakMeter fresh = new();
        PrecisePeakMeter used = new();
        used.Add(Tone(0.3, 0, 1), Tone(0.2, 0, 1));
        used.Reset();
        Assert.Equal(double.NegativeInfinity, used.TruePeakDbtp);
        fresh.Add(tone, tone);
        used.Add(tone, tone);
        Assert.Equal(fresh.TruePeakDbtp, used.TruePeakDbtp);
    }

    private static float[] BandLimited(double highestFrequency, int partials, int seed)
    {
        Random random = new(seed);
        double[] sum = new double[6000];
        for (int partial = 0; partial < partials; partial++)
        {
            double frequency = highestFrequency * random.NextDouble();
            double phase = 2 * Math.PI * random.NextDouble();
            for (int n = 0; n < sum.Length; n++)
            {
                sum[n] += Math.Sin(2 * Math.PI * frequency * n + phase) / partials;
            }
        }

        return [.. sum.Select((value, n) => (float)(value * Fade(n, sum.Length)))];
    }

    private static double Fade(int n, int length)
    {
        double place = Math.Min(1, Math.Min(n, length - 1 - n) / 1000.0);
        return 0.5 - 0.5 * Math.Cos(Math.PI * place);
    }

    private static float[] Tone(double frequency, double phase, double amplitude)
    {
        float[] tone = new float[3000];
        for (int n = 0; n < tone.Length; n++)
        {
            tone[n] = (float)(amplitude * Fade(n, tone.Length) * Math.Sin(2 * Math.PI * frequency * n + phase));
        }

        return tone;
    }
}
