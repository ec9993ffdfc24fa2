using LiveStems.Analysis.Spectra;
using LiveStems.Dsp;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Analysis.Spectra;

public class SpectrumAnalyserTests
{
    private const int Rate = 48_000;

    [Theory]
    [InlineData(44_100, 1000)]
    [InlineData(48_000, 99_999)]
    [InlineData(96_000, 70_001)]
    public void LinesHoldTheWholePowerHoweverLongTheSound(int rate, int frames)
    {
        float[] left = Noise.White(frames, 1, 0.3f), right = Noise.White(frames, 2, 0.1f);
        LongTermSpectrum spectrum = Analyse(rate, 3, left, right, SpectrumChannel.Both);
        double power = (left.Sum(x => (double)x * x) + right.Sum(x => (double)x * x)) / (2.0 * frames);

        // Squares of Hann windows a quarter apart add up to a constant; what remains is rounding of the window and transform, 2⁻²⁰.
        Assert.Equal(power, spectrum.Lines.Sum(), power * 1e-5);
    }

    [Theory]
    [InlineData(3, 1000)]
    [InlineData(3, 62)]
    [InlineData(12, 1030)]
    [InlineData(24, 9_900)]
    public void ToneOfFullScaleReadsZeroInItsBand(int fraction, double frequency)
    {
        float[] tone = Tone(10 * Rate, frequency, 1);
        LongTermSpectrum spectrum = Analyse(Rate, fraction, tone, tone, SpectrumChannel.Both);
        BandLevel strongest = spectrum.Bands.MaxBy(level => level.MeanDbfs)!;
        Assert.InRange(frequency, strongest.Band.LowerHz, strongest.Band.UpperHz);

        // Seven bins of a band hold all but 0.05 % of a Hann window's main lobe when the tone is a bin from the edge; both ends of
        // 10 s spread little more.
        Assert.Equal(0, strongest.MeanDbfs, 0.1);
        Assert.Equal(0, strongest.Percentile50Dbfs, 0.15);
    }

    [Fact]
    public void PinkNoiseIsLevelAndWhiteNoiseRises()
    {
        float[] pink = PinkNoise.Make(20 * Rate, 5, 0.1);
        float[] white = Noise.White(20 * Rate, 3, 0.2f);
        Assert.Equal(0, Analyse(Rate, 3, pink, pink, SpectrumChannel.Both).Tilt.DbPerOctave, 0.1);

        // Ten to the 0.3 over two to the 1 aside, white noise rises by 10 log 2 = 3.01 dB an octave.
        Assert.Equal(3.01, Analyse(Rate, 3, white, white, SpectrumChannel.Both).Tilt.DbPerOctave, 0.1);
    }

    [Fact]
    public void ResultDoesNotDependOnBlocks()
    {
        float[] left = Noise.White(200_000, 1, 0.3f), right = Noise.White(200_000, 2, 0.1f);
        SpectrumAnalyser whole = new(Rate, 12, SpectrumChannel.Mid), pieces = new(Rate, 12, SpectrumChannel.Mid);
        whole.Add(left, right);
        int[] lengths = [1, 7, 4096, 333, 20_000];
        for (int start = 0, i = 0; start < left.Length; i++)
        {
            int count = Math.Min(lengths[i % lengths.Length], left.Length - start);
            pieces.Add(left.AsSpan(start, count), right.AsSpan(start, count));
            start += count;
        }

        LongTermSpectrum expected = whole.Finish(), result = pieces.Finish();
        Assert.Equal(expected.Lines, result.Lines);
        Assert.Equal(expected.Bands, result.Bands);
    }

    [Fact]
    public void PercentilesTellHowLongABandSounds()
    {
        // A quarter of the time at −20 dBFS, the rest silent.
        float[] tone = Tone(20 * Rate, 2000, 0.1);
        Array.Clear(tone, 5 * Rate, 15 * Rate);
        BandLevel band = Analyse(Rate, 3, tone, tone, SpectrumChannel.Both).Bands.MaxBy(level => level.MeanDbfs)!;
        Assert.Equal(-26.02, band.MeanDbfs, 0.05);
        Assert.Equal(double.NegativeInfinity, band.Percentile50Dbfs);
        Assert.Equal(-20, band.Percentile90Dbfs, 0.15);
        Assert.Equal(-20, band.MaximumDbfs, 0.05);
    }

    [Fact]
    public void SidesAreToldApart()
    {
        float[] low = Tone(5 * Rate, 500, 0.5), high = Tone(5 * Rate, 5000, 0.5);
        Assert.Equal(500, Strongest(low, high, SpectrumChannel.Left), 60.0);
        Assert.Equal(5000, Strongest(low, high, SpectrumChannel.Right), 600.0);
        float[] opposite = [.. low.Select(sample => -sample)];
        Assert.True(Analyse(Rate, 3, low, opposite, SpectrumChannel.Mid).Lines.Sum() < 1e-12);
        Assert.Equal(0.125, Analyse(Rate, 3, low, opposite, SpectrumChannel.Side).Lines.Sum(), 1e-5);
    }

    [Fact]
    public void CrestOfATonesBandIsThatOfASine()
    {
        float[] tone = Tone(5 * Rate, 1000, 0.5);
        SpectrumAnalyser analyser = new(Rate, 3, SpectrumChannel.Both, withCrest: true);
        analyser.Add(tone, tone);
        double crest = analyser.Finish().Bands.MaxBy(level => level.MeanDbfs)!.CrestDb!.Value;

        // The band filter settles from the abrupt start within its first hundredth; the overshoot of its envelope is below 1 dB.
        Assert.InRange(crest, Decibels.FromPower(2) - 0.01, Decibels.FromPower(2) + 1);
    }

    [Fact]
    public void LiveSpectrumAgreesWithTheLongTermOneAndDoesNotAllocate()
    {
        float[] noise = Noise.White(10 * Rate, 8, 0.2f);
        LongTermSpectrum expected = Analyse(Rate, 6, noise, noise, SpectrumChannel.Both);
        LiveSpectrum live = new(Rate, 6);
        live.Add(noise.AsSpan(0, 4096), noise.AsSpan(0, 4096));
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int start = 4096; start < noise.Length; start += 4096)
        {
            ReadOnlySpan<float> block = noise.AsSpan(start, Math.Min(4096, noise.Length - start));
            live.Add(block, block);
        }

        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
        float[] means = new float[live.Bands.Count], levels = new float[live.Bands.Count], peaks = new float[live.Bands.Count];
        live.CopyMeans(means);
        live.CopyLevels(levels);
        live.CopyPeaks(peaks);
        for (int band = 0; band < means.Length; band++)
        {
            // The frames that fill up at the start weigh less than 1.4 s of 10.
            Assert.Equal(expected.Bands[band].MeanDbfs, means[band], 1.0);
            Assert.True(peaks[band] >= levels[band]);
        }

        live.ClearPeaks();
        live.CopyPeaks(peaks);
        Assert.Equal(levels, peaks);
    }

    private static double Strongest(float[] left, float[] right, SpectrumChannel channel) =>
        Analyse(Rate, 3, left, right, channel).Bands.MaxBy(level => level.MeanDbfs)!.Band.MidHz;

    private static LongTermSpectrum Analyse(int rate, int fraction, float[] left, float[] right, SpectrumChannel channel)
    {
        SpectrumAnalyser analyser = new(rate, fraction, channel);
        analyser.Add(left, right);
        return analyser.Finish();
    }

    private static float[] Tone(int frames, double frequency, double amplitude) =>
        [.. Enumerable.Range(0, frames).Select(n => (float)(amplitude * Math.Sin(2 * Math.PI * frequency * n / Rate)))];
}
