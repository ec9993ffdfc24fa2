using LiveStems.Dsp;
using LiveStems.Processing.Processors.DeEsser;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Processing.DeEsser;

/// <summary>What happens to other sounds while a key of hiss holds the reduction at its range of 6 dB.</summary>
public class BandTests
{
    private const int SampleRate = 48_000;
    private static readonly float[] Hiss = HissAfterVoice();

    // |H|² = (1 + g² w⁴) / (1 + w⁴), derived with DynamicHighShelf, at 5.5 kHz; w by the bilinear transform is
    // tan(π f / fs) / tan(π fc / fs).
    [Theory]
    [InlineData(500)]
    [InlineData(2000)]
    [InlineData(5500)]
    [InlineData(9000)]
    [InlineData(15_000)]
    public void SplitBandIsAShelf(double frequencyHz)
    {
        double w = Math.Tan(Math.PI * frequencyHz / SampleRate) / Math.Tan(Math.PI * 5500 / SampleRate);
        double fourth = Math.Pow(w, 4);
        double expected = Decibels.FromPower((1 + Decibels.ToPower(-6) * fourth) / (1 + fourth));
        Assert.Equal(expected, ChangeDb(frequencyHz, mode: 0), 0.02);
    }

    [Theory]
    [InlineData(100)]
    [InlineData(9000)]
    public void WideModeTakesEverythingDown(double frequencyHz) => Assert.Equal(-6, ChangeDb(frequencyHz, mode: 1), 0.02);

    private static double ChangeDb(double frequencyHz, int mode)
    {
        float[] tone = TestSignals.Sine(Hiss.Length, frequencyHz, SampleRate, 0.25);
        DeEsserProcessor processor = ProcessorRun.Prepared<DeEsserProcessor>(
            SampleRate, ("mode", mode), ("thresholdDb", -40), ("rangeDb", 6), ("releaseMs", 500));
        (float[] output, float[] _) = ProcessorRun.Through(processor, tone, tone, Hiss);

        // Whole periods of all the tones, behind the look-ahead.
        Range end = (Hiss.Length - 4800)..Hiss.Length;
        return Decibels.FromPower(Sentence.Power(output, end) / Sentence.Power(tone, end));
    }

    private static float[] HissAfterVoice()
    {
        float[] voice = new Sentence(SampleRate, 2, 0).Sound;
        return [.. voice, .. TestSignals.WhiteNoise(SampleRate / 2, 8, 0.3)];
    }
}
