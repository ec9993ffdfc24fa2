using LiveStems.Dsp.Loudness;
using Xunit;

namespace LiveStems.Tests.Dsp.Loudness;

public class LoudnessMeterTests
{
    public static TheoryData<int> SampleRates => [8_000, 11_025, 44_100, 48_000, 96_000];

    [Theory]
    [MemberData(nameof(SampleRates))]
    public void ReadingsAgreeWithKeepingAndSortingEveryBlock(int sampleRate)
    {
        (float[] left, float[] right) = MovingNoise.Make(sampleRate, 40.123, sampleRate);
        LoudnessOracle oracle = new(sampleRate, left, right);
        LoudnessMeter meter = new(sampleRate);
        meter.Add(left, right);

        // Sums in another order: 1e-9 dB. Histograms: their documented 0.001 LU.
        Assert.Equal(oracle.MaximumMomentaryLufs, meter.MaximumMomentaryLufs, 1e-9);
        Assert.Equal(oracle.MaximumShortTermLufs, meter.MaximumShortTermLufs, 1e-9);
        Assert.Equal(oracle.IntegratedLufs, meter.IntegratedLufs, 0.001);
        Assert.Equal(oracle.LoudnessRangeLu, meter.LoudnessRangeLu, 0.001);
    }

    [Theory]
    [InlineData(11_025)]
    [InlineData(44_100)]
    [InlineData(48_000)]
    public void ReadingsDoNotDependOnBlockSize(int sampleRate)
    {
        (float[] left, float[] right) = MovingNoise.Make(sampleRate, 12.3, 5);
        LoudnessMeter whole = new(sampleRate);
        whole.Add(left, right);
        foreach (int blockSize in (int[])[1, 7, 64, 441, 4096])
        {
            LoudnessMeter cut = new(sampleRate);
            AddInBlocks(cut, left, right, blockSize);
            AssertSameReadings(whole, cut);
        }
    }

    [Fact]
    public void BlocksOfChangingSizeReadTheSame()
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 12.3, 6);
        LoudnessMeter whole = new(48_000);
        whole.Add(left, right);
        LoudnessMeter cut = new(48_000);
        Random random = new(1);
        for (int start = 0; start < left.Length;)
        {
            int frames = Math.Min(random.Next(0, 700), left.Length - start);
            cut.Add(left.AsSpan(start, frames), right.AsSpan(start, frames));
            start += frames;
        }

        AssertSameReadings(whole, cut);
    }

    [Fact]
    public void ResetIsAsIfFromSilence()
    {
        (float[] left, float[] right) = MovingNoise.Make(44_100, 8, 7);
        (float[] otherLeft, float[] otherRight) = MovingNoise.Make(44_100, 5.037, 8);
        LoudnessMeter fresh = new(44_100);
        fresh.Add(left, right);
        LoudnessMeter used = new(44_100);
        used.Add(otherLeft, otherRight);
        used.Reset();
        Assert.Equal(double.NegativeInfinity, used.IntegratedLufs);
        used.Add(left, right);
        AssertSameReadings(fresh, used);
    }

    [Fact]
    public void AddResetAndReadingsAllocateNothing()
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 8, 9);
        LoudnessMeter meter = new(48_000);
        AddReadAndReset(meter, left, right);
        long before = GC.GetAllocatedBytesForCurrentThread();
        AddReadAndReset(meter, left, right);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    [Fact]
    public void SamplesThatAreNotFiniteSpoilOnlyTheirOwnStep()
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 20, 10);
        LoudnessMeter clean = new(48_000);
        clean.Add(left, right);
        left[100_000] = float.NaN;
        right[300_000] = float.PositiveInfinity;
        LoudnessMeter spoilt = new(48_000);
        spoilt.Add(left, right);

        // The level stands for half a second at least, so a step of 10 ms holds at most 2 % of the energy: two, 0.18 dB.
        Assert.Equal(clean.IntegratedLufs, spoilt.IntegratedLufs, 0.18);
        Assert.Equal(clean.MomentaryLufs, spoilt.MomentaryLufs, 1e-6);
    }

    [Fact]
    public void SilenceAfterSoundReadsAsSilence()
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 4, 11);
        LoudnessMeter meter = new(48_000);
        meter.Add(left, right);
        float[] silence = new float[48_000 * 5];
        meter.Add(silence, silence);
        Assert.Equal(double.NegativeInfinity, meter.MomentaryLufs);
        Assert.Equal(double.NegativeInfinity, meter.ShortTermLufs);
        Assert.True(double.IsFinite(meter.IntegratedLufs));
    }

    [Fact]
    public void LessThanABlockHasNoIntegratedLoudness()
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 0.399, 12);
        LoudnessMeter meter = new(48_000);
        meter.Add(left, right);
        Assert.Equal(double.NegativeInfinity, meter.IntegratedLufs);
        Assert.Equal(0, meter.LoudnessRangeLu);
        Assert.True(double.IsFinite(meter.MaximumMomentaryLufs));
    }

    [Theory]
    [InlineData(7_999)]
    [InlineData(384_001)]
    public void OddSampleRatesAreRefused(int sampleRate) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new LoudnessMeter(sampleRate));

    [Fact]
    public void ChannelsOfDifferentLengthAreRefused() =>
        Assert.Throws<ArgumentException>(() => new LoudnessMeter(48_000).Add(new float[2], new float[3]));

    private static void AddInBlocks(LoudnessMeter meter, float[] left, float[] right, int blockSize)
    {
        for (int start = 0; start < left.Length; start += blockSize)
        {
            int frames = Math.Min(blockSize, left.Length - start);
            meter.Add(left.AsSpan(start, frames), right.AsSpan(start, frames));
        }
    }

    private static double AddReadAndReset(LoudnessMeter meter, float[] left, float[] right)
    {
        AddInBlocks(meter, left, right, 500);
        double sum = meter.MomentaryLufs + meter.ShortTermLufs + meter.IntegratedLufs + meter.LoudnessRangeLu
            + meter.MaximumMomentaryLufs + meter.MaximumShortTermLufs;
        meter.Reset();
        return sum;
    }

    private static void AssertSameReadings(LoudnessMeter expected, LoudnessMeter actual)
    {
        Assert.Equal(expected.MomentaryLufs, actual.MomentaryLufs);
        Assert.Equal(expected.ShortTermLufs, actual.ShortTermLufs);
        Assert.Equal(expected.IntegratedLufs, actual.IntegratedLufs);
        Assert.Equal(expected.LoudnessRangeLu, actual.LoudnessRangeLu);
        Assert.Equal(expected.MaximumMomentaryLufs, actual.MaximumMomentaryLufs);
        Assert.Equal(expected.MaximumShortTermLufs, actual.MaximumShortTermLufs);
    }
}
