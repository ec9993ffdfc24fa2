using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;
using Xunit;

namespace LiveStems.Tests.Dsp.Loudness;

public class TruePeakMeterTests
{
    [Fact]
    public void AgreesWithAPlainDoublePrecisionInterpolatorAtAnyLength()
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 0.05, 1);
        foreach (int length in (int[])[1, 2, 7, 15, 16, 17, 31, 33, 100, 1023, 1025, 2400])
        {
            TruePeakMeter meter = new();
            meter.Add(left.AsSpan(0, length), right.AsSpan(0, length));
            meter.Finish();

            // 24 single-precision products and sums: below 24 × 2⁻²⁴ of the sum of magnitudes, 2.5 times the peak: 4e-6.
            Assert.Equal(OraclePeak(left.AsSpan(0, length)), Decibels.ToAmplitude(meter.LeftTruePeakDbtp), 4e-6);
            Assert.Equal(OraclePeak(right.AsSpan(0, length)), Decibels.ToAmplitude(meter.RightTruePeakDbtp), 4e-6);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(7)]
    [InlineData(64)]
    [InlineData(4096)]
    public void ReadingsDoNotDependOnBlockSize(int blockSize)
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 3.01, 2);
        TruePeakMeter whole = new();
        TruePeakMeter cut = new();
        whole.Add(left, right);
        AddInBlocks(cut, left, right, blockSize);
        AssertSameReadings(whole, cut);
        whole.Finish();
        cut.Finish();
        AssertSameReadings(whole, cut);
    }

    [Fact]
    public void ResetIsAsIfFromSilence()
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 0.5, 3);
        TruePeakMeter fresh = new();
        TruePeakMeter used = new();
        used.Add(right, left);
        used.Reset();
        Assert.Equal(double.NegativeInfinity, used.TruePeakDbtp);
        Assert.Equal(double.NegativeInfinity, used.SamplePeakDbfs);
        fresh.Add(left, right);
        used.Add(left, right);
        AssertSameReadings(fresh, used);
    }

    [Fact]
    public void NothingIsAllocated()
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 0.5, 4);
        TruePeakMeter meter = new();
        Use(meter, left, right);
        long before = GC.GetAllocatedBytesForCurrentThread();
        Use(meter, left, right);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    [Theory]
    [InlineData(0.05, 0.02)]
    [InlineData(0.25, 0.04)]
    [InlineData(0.35, 0.04)]
    [InlineData(0.4167, 0.063)]
    public void ASteadyToneReadsNoLowerThanTheGridAllowsAndHardlyHigher(double frequency, double flatnessDb)
    {
        // Annex 2 Attachment 1 of BS.1770-5: a grid of four reads up to 20 log cos(π f / 4) low.
        double gridDb = Decibels.FromAmplitude(Math.Cos(Math.PI * frequency / 4));
        for (int step = 0; step < 40; step++)
        {
            double reading = ReadingOfTone(frequency, Math.PI * step / 40);
            Assert.InRange(reading, gridDb - flatnessDb, flatnessDb);
        }
    }

    [Fact]
    public void ThePeakOfASingleSampleIsThatSample()
    {
        float[] pulse = new float[200];
        pulse[77] = -0.5f;
        TruePeakMeter meter = new();
        meter.Add(pulse, new float[200]);
        meter.Finish();
        Assert.Equal(Decibels.FromAmplitude(0.5), meter.LeftTruePeakDbtp);
        Assert.Equal(Decibels.FromAmplitude(0.5), meter.LeftSamplePeakDbfs);
        Assert.Equal(double.NegativeInfinity, meter.RightTruePeakDbtp);
        Assert.Equal(meter.LeftTruePeakDbtp, meter.TruePeakDbtp);
    }

    [Fact]
    public void ClearedPeaksStartAnewWhileTheSoundGoesOn()
    {
        float[] loud = [.. Enumerable.Repeat(0.9f, 1000)];
        float[] quiet = [.. Enumerable.Repeat(0.1f, 1000)];
        TruePeakMeter meter = new();
        meter.Add(loud, loud);
        meter.Add(quiet, quiet);
        meter.ClearPeaks();
        meter.Add(quiet, quiet);
        Assert.Equal(Decibels.FromAmplitude(0.1f), meter.SamplePeakDbfs, 1e-6);
        Assert.Equal(-20, meter.TruePeakDbtp, 0.05);
    }

    [Fact]
    public void WhatIsNotANumberIsPassedOver()
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 0.5, 5);
        left[12_000] = float.NaN;
        TruePeakMeter meter = new();
        meter.Add(left, right);
        meter.Finish();
        Assert.True(double.IsFinite(meter.LeftTruePeakDbtp));
        Assert.True(meter.LeftTruePeakDbtp >= meter.LeftSamplePeakDbfs);
    }

    private static double ReadingOfTone(double frequency, double phase)
    {
        // Long fades, so that the onset does not ring.
        float[] tone = new float[4000];
        for (int n = 0; n < tone.Length; n++)
        {
            double fade = Math.Min(1, Math.Min(n, tone.Length - 1 - n) / 1000.0);
            tone[n] = (float)((0.5 - 0.5 * Math.Cos(Math.PI * fade)) * Math.Sin(2 * Math.PI * frequency * n + phase));
        }

        TruePeakMeter meter = new();
        meter.Add(tone, tone);
        return meter.TruePeakDbtp;
    }

    private static double OraclePeak(ReadOnlySpan<float> samples)
    {
        const int Taps = 24;
        double peak = 0;
        double[][] phases = [.. ((double[])[0.25, 0.5, 0.75]).Select(fraction => FractionalDelay.Design(Taps, fraction, 0.45))];
        for (int n = -Taps; n < samples.Length; n++)
        {
            foreach (double[] taps in phases)
            {
                double sum = 0;
                for (int k = 0; k < Taps; k++)
                {
                    sum += n + k >= 0 && n + k < samples.Length ? taps[k] * samples[n + k] : 0;
                }

                peak = Math.Max(peak, Math.Abs(sum));
            }

            peak = n < 0 ? peak : Math.Max(peak, Math.Abs(samples[n]));
        }

        return peak;
    }

    private static void Use(TruePeakMeter meter, float[] left, float[] right)
    {
        AddInBlocks(meter, left, right, 333);
        meter.Finish();
        Assert.False(double.IsNaN(meter.TruePeakDbtp + meter.SamplePeakDbfs));
        meter.ClearPeaks();
        meter.Reset();
    }

    private static void AddInBlocks(TruePeakMeter meter, float[] left, float[] right, int blockSize)
    {
        for (int start = 0; start < left.Length; start += blockSize)
        {
            int frames = Math.Min(blockSize, left.Length - start);
            meter.Add(left.AsSpan(start, frames), right.AsSpan(start, frames));
        }
    }

    private static void AssertSameReadings(TruePeakMeter expected, TruePeakMeter actual)
    {
        Assert.Equal(expected.LeftTruePeakDbtp, actual.LeftTruePeakDbtp);
        Assert.Equal(expected.RightTruePeakDbtp, actual.RightTruePeakDbtp);
        Assert.Equal(expected.LeftSamplePeakDbfs, actual.LeftSamplePeakDbfs);
        Assert.Equal(expected.RightSamplePeakDbfs, actual.RightSamplePeakDbfs);
    }
}
