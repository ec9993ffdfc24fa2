using LiveStems.Dsp;
using LiveStems.Processing.Processors.ResonanceSuppressor;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Processing.ResonanceSuppressor;

/// <summary>A partial that rings for 0.6 s of each second, over a bed of pink noise.</summary>
public class RingingPartialTests
{
    private const int SampleRate = 48_000;
    private const int Frames = 14 * SampleRate;
    private const int Size = 2048;

    // From 100 ms after a start, twice the attack, to just before the end.
    private static readonly Func<int, bool> Rings = frame => frame >= SampleRate && frame % SampleRate is > 4800 and < 27_800;

    private static readonly Func<int, bool> Rests = frame => frame >= SampleRate && frame % SampleRate > 42_000;

    [Theory]
    [InlineData(700)]
    [InlineData(2007)]
    [InlineData(5011.7)]
    public void RingingPartialSinksIntoTheTrendAndItsNeighboursStay(double frequencyHz)
    {
        float[] bed = PinkNoise.Make(Frames, 3, 0.05);
        int bin = (int)Math.Round(frequencyHz * Size / SampleRate);
        double trend = AveragedSpectrum.Mean(AveragedSpectrum.Of(bed, Size, Rings), bin, 8);
        float[] sound = WithPartial(bed, frequencyHz, trend, 9);
        ResonanceSuppressorProcessor processor = ProcessorRun.Prepared<ResonanceSuppressorProcessor>(SampleRate, ("depthPercent", 100));
        float[] output = Aligned(processor, sound);

        double[] before = AveragedSpectrum.Of(sound, Size, Rings);
        double[] after = AveragedSpectrum.Of(output, Size, Rings);
        double stoodOut = Decibels.FromPower(AveragedSpectrum.Highest(before, bin, 1) / trend);
        double standsOut = Decibels.FromPower(AveragedSpectrum.Highest(after, bin, 3) / trend);
        TestContext.Current.TestOutputHelper!.WriteLine($"{frequencyHz} Hz: {stoodOut:0.00} dB over the trend before, {standsOut:0.00} dB after");
        Assert.InRange(stoodOut, 8, 10);
        Assert.InRange(standsOut, -1.5, 1.5);

        double[] beforeAlways = AveragedSpectrum.Of(sound, Size, frame => frame >= SampleRate);
        double[] afterAlways = AveragedSpectrum.Of(output, Size, frame => frame >= SampleRate);
        foreach (double octaves in new[] { -1 / 3.0, 1 / 3.0 })
        {
            int neighbour = (int)Math.Round(bin * Math.Pow(2, octaves));
            int reach = Math.Max(1, neighbour / 40);
            double change = Decibels.FromPower(AveragedSpectrum.Mean(afterAlways, neighbour, reach) / AveragedSpectrum.Mean(beforeAlways, neighbour, reach));
            TestContext.Current.TestOutputHelper!.WriteLine($"  {octaves:0.00} octaves: {change:0.000} dB");
            Assert.InRange(change, -0.5, 0.5);
        }
    }

    [Fact]
    public void CutIsGoneWhenThePartialIs()
    {
        float[] bed = PinkNoise.Make(Frames, 3, 0.05);
        const double frequencyHz = 2007;
        int bin = (int)Math.Round(frequencyHz * Size / SampleRate);
        float[] sound = WithPartial(bed, frequencyHz, AveragedSpectrum.Mean(AveragedSpectrum.Of(bed, Size, Rings), bin, 8), 9);
        ResonanceSuppressorProcessor processor = ProcessorRun.Prepared<ResonanceSuppressorProcessor>(SampleRate, ("depthPercent", 100));
        float[] output = Aligned(processor, sound);

        // 275 to 400 ms after the end: the window, and three times the release, have passed.
        double change = Decibels.FromPower(
            AveragedSpectrum.Mean(AveragedSpectrum.Of(output, Size, Rests), bin, 2) / AveragedSpectrum.Mean(AveragedSpectrum.Of(sound, Size, Rests), bin, 2));
        TestContext.Current.TestOutputHelper!.WriteLine($"{change:0.00} dB at rest");
        Assert.InRange(change, -0.7, 0.1);
    }

    [Fact]
    public void ReductionShowsWhereThePartialIs()
    {
        float[] bed = PinkNoise.Make(Frames, 3, 0.05);
        const double frequencyHz = 2007;
        int bin = (int)Math.Round(frequencyHz * Size / SampleRate);
        float[] sound = WithPartial(bed, frequencyHz, AveragedSpectrum.Mean(AveragedSpectrum.Of(bed, Size, Rings), bin, 8), 9);
        ResonanceSuppressorProcessor processor = ProcessorRun.Prepared<ResonanceSuppressorProcessor>(SampleRate, ("depthPercent", 100));
        Assert.Equal(Size / 2 + 1, processor.ReductionBins);
        ProcessorRun.Through(processor, sound[..(SampleRate + 24_000)], sound[..(SampleRate + 24_000)]);
        float[] reduction = processor.LatestReductionDb().ToArray();
        int deepest = Array.IndexOf(reduction, reduction.Min());
        Assert.InRange(deepest, bin - 2, bin + 2);
        Assert.InRange(reduction[bin], -12, -7);
        Assert.True(reduction[bin - 12] > -1 && reduction[bin + 12] > -1);
        Assert.InRange(processor.GainReductionDb, reduction.Min() - 1, reduction.Min() + 0.001f);
    }

    // The partial is raised until its bin holds the wanted surplus together with the noise that is already there: a sine of
    // amplitude a stands at a · size/4 in a Hann window.
    private static float[] WithPartial(float[] bed, double frequencyHz, double trend, double surplusDb)
    {
        double amplitude = Math.Sqrt(trend * (Decibels.ToPower(surplusDb) - 1)) / (Size / 4.0);
        float[] sound = [.. bed];
        for (int n = 0; n < sound.Length; n++)
        {
            int place = n % SampleRate;
            double envelope = Math.Clamp(Math.Min(place, 28_800 - place) / 240.0, 0, 1);
            sound[n] += (float)(amplitude * envelope * Math.Sin(2 * Math.PI * frequencyHz * n / SampleRate));
        }

        return sound;
    }

    private static float[] Aligned(ResonanceSuppressorProcessor processor, float[] sound)
    {
        float[] padded = [.. sound, .. new float[processor.LatencyFrames]];
        return ProcessorRun.Through(processor, padded, padded).Left[processor.LatencyFrames..];
    }
}
