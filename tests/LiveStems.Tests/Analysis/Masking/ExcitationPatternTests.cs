using LiveStems.Analysis.Hearing;
using LiveStems.Analysis.Masking;
using Xunit;

namespace LiveStems.Tests.Analysis.Masking;

public class ExcitationPatternTests
{
    private const int Bands = 38;
    private const int Source = 14;

    [Fact]
    public void LoudSoundsSpreadUpwardsAndQuietOnesAlike()
    {
        double[] loud = Of(90);
        Assert.True(loud[Source + 4] > 100 * loud[Source - 4]);
        double[] quiet = Of(51);
        Assert.Equal(1, Decibels(quiet[Source + 1]) / Decibels(quiet[Source - 1]), 0.25);
    }

    [Fact]
    public void OneFilterAwayTheExcitationIsTenDecibelsLower()
    {
        // (1 + pg)·e^(−pg) with p·g = 4·Δf/ERB: one Cam away Δf is one ERB, within 5 %, so 10 log(5·e⁻⁴) = −10.4 dB; 0.6 dB for Δf.
        double[] excitation = Of(51);
        Assert.Equal(51 - 10.4, Decibels(excitation[Source + 1]), 0.8);
    }

    [Fact]
    public void LoudNoiseCoversAQuietTone()
    {
        const int Rate = 48_000;
        // In the 133 Hz of the auditory filter the noise has −41 dB, the tone −53.5: 12 dB, of which 3 are needed and 2 × 1.3 its deviation.
        Random random = new(5);
        float[] tone = [.. Enumerable.Range(0, 3 * Rate).Select(n => 0.003f * MathF.Sin(2 * MathF.PI * 1000 * n / Rate))];
        float[] noise = [.. tone.Select(_ => (float)(0.4 * (random.NextDouble() - 0.5)))];
        MaskingCounter counter = new(2, Rate, 75);
        for (int done = 0; done + 2048 <= tone.Length; done += 2048)
        {
            counter.Write(0, tone.AsSpan(done, 2048), tone.AsSpan(done, 2048));
            counter.Write(1, noise.AsSpan(done, 2048), noise.AsSpan(done, 2048));
        }

        MaskingMap map = new MaskingMapBuilder(counter, ["Tone", "Noise"], 3).Build();
        MaskingPair worst = map.Worst[0];
        Assert.Equal(("Tone", "Noise"), (worst.Covered, worst.By));
        Assert.InRange(1000, worst.LowHz, worst.HighHz);
        Assert.True(worst.ShareOfTime > 0.9, $"{worst.ShareOfTime}");
        Assert.True(map.CoveredOf(1) < 0.05, $"{map.CoveredOf(1)}");
    }

    private static double[] Of(double levelDb)
    {
        double[] power = new double[Bands];
        power[Source] = Math.Pow(10, levelDb / 10);
        double[] excitation = new double[Bands];
        new ExcitationPattern(Bands).Compute(power, excitation);
        return excitation;
    }

    private static double Decibels(double power) => 10 * Math.Log10(power);
}
