using LiveStems.Dsp.Loudness;
using Xunit;

namespace LiveStems.Conformance.Loudness;

/// <summary>ITU-R BS.1770-5 (11/2023) Annex 1 and the structures of the ITU's compliance signals (Report BS.2217).</summary>
public class Bs1770Tests
{
    public static TheoryData<int> SampleRates => [8_000, 11_025, 22_050, 44_100, 48_000, 88_200, 96_000, 176_400, 192_000, 384_000];

    [Theory]
    [MemberData(nameof(SampleRates))]
    public void FullScaleToneOf997HertzInOneChannelReadsMinus3Point01(int sampleRate)
    {
        // Annex 1 gives −3.01 LKFS; the exact figure at 48 kHz is −3.0103, and the filter at 8 kHz is 0.009 dB off it.
        double tolerance = sampleRate < 11_025 ? 0.01 : 0.003;
        float[] tone = new ToneProgramme(sampleRate, 997).Tone(0, 10).Samples;
        float[] silence = new float[tone.Length];
        Assert.Equal(-3.01, Integrated(sampleRate, tone, silence), tolerance);
        Assert.Equal(-3.01, Integrated(sampleRate, silence, tone), tolerance);
    }

    [Theory]
    [InlineData(25, -11.9162)]
    [InlineData(100, -21.1755)]
    [InlineData(500, -22.3515)]
    [InlineData(997, -23.0000)]
    [InlineData(1000, -23.0067)]
    [InlineData(2000, -25.3803)]
    [InlineData(10000, -26.3509)]
    public void TonesOfEqualLoudnessReadMinus23(double frequency, double peakDbfs)
    {
        // Peaks computed from Tables 1 and 2 (libebur128 reads −23.0000 ± 0.0002); Report BS.2217 allows ±0.1.
        float[] tone = new ToneProgramme(48_000, frequency).Tone(peakDbfs, 20).Samples;
        Assert.Equal(-23, Integrated(48_000, tone, tone), 0.0005);
        foreach (int sampleRate in (int[])[44_100, 96_000, 192_000])
        {
            tone = new ToneProgramme(sampleRate, frequency).Tone(peakDbfs, 20).Samples;
            Assert.Equal(-23, Integrated(sampleRate, tone, tone), 0.0015);
        }
    }

    [Fact]
    public void AbsoluteGateKeepsOnlyTheBursts()
    {
        // The ITU's AbsGateTest: bursts just above −70 LKFS over a background of one 16-bit step; expected −69.5 ±0.1.
        ToneProgramme programme = new ToneProgramme(48_000).Tone(-90.31, 0.8);
        for (int burst = 0; burst < 3; burst++)
        {
            programme.Tone(-69.48, 0.5).Tone(-90.31, 0.5);
        }

        programme.Tone(-90.31, 0.2);
        Assert.Equal(-69.5, Integrated(programme), 0.1);
    }

    [Fact]
    public void RelativeGateKeepsOnlyTheLoudMiddle()
    {
        // The ITU's RelGateTest: expected −10.0 ±0.1.
        ToneProgramme programme = new ToneProgramme(48_000)
            .Tone(-90.31, 0.5).Tone(-19.9, 0.9).Tone(-7.1, 1.3).Tone(-19.9, 0.8).Tone(-90.31, 0.5);
        Assert.Equal(-10.0, Integrated(programme), 0.1);
    }

    [Theory]
    [InlineData(-8, -22.3647)]
    [InlineData(-12, -22.7379)]
    [InlineData(-20, -20.0257)]
    public void RelativeGateSits10BelowTheUngatedLoudness(double step, double expected)
    {
        // Computed from equations 5 to 7 and confirmed by libebur128 1.2.6.
        ToneProgramme programme = new ToneProgramme(48_000).Tone(-20, 20).Tone(-20 + step, 20);
        Assert.Equal(expected, Integrated(programme), 0.001);
    }

    [Fact]
    public void SilenceHasNoLoudness()
    {
        LoudnessMeter meter = new(48_000);
        float[] silence = new float[480_000];
        meter.Add(silence, silence);
        Assert.Equal(double.NegativeInfinity, meter.IntegratedLufs);
        Assert.Equal(double.NegativeInfinity, meter.MomentaryLufs);
        Assert.Equal(double.NegativeInfinity, meter.ShortTermLufs);
        Assert.Equal(double.NegativeInfinity, meter.MaximumMomentaryLufs);
        Assert.Equal(double.NegativeInfinity, meter.MaximumShortTermLufs);
        Assert.Equal(0, meter.LoudnessRangeLu);
    }

    private static double Integrated(ToneProgramme programme) =>
        Integrated(programme.SampleRate, programme.Samples, programme.Samples);

    private static double Integrated(int sampleRate, float[] left, float[] right)
    {
        LoudnessMeter meter = new(sampleRate);
        meter.Add(left, right);
        return meter.IntegratedLufs;
    }
}
