using LiveStems.App.Demo.Instruments;
using LiveStems.Dsp;
using Xunit;

namespace LiveStems.Tests.App.Demo.Instruments;

public class StringAndModeTests
{
    private const int Rate = 48000;

    [Theory]
    [InlineData(41.2)]
    [InlineData(110)]
    [InlineData(329.63)]
    [InlineData(880)]
    public void StringsAreInTune(double hertz)
    {
        StemSound sound = Pluck(hertz, 3, held: 2);

        // The delay is exact for the fundamental; 3 cents are below what an ear tells apart (common practice: 5 cents).
        double measured = PitchMeter.Hertz(sound, 0.6, 0.5, hertz * 0.9, hertz * 1.1);
        Assert.InRange(1200 * Math.Log2(measured / hertz), -3, 3);
    }

    [Theory]
    [InlineData(110, 2.0)]
    [InlineData(220, 4.0)]
    public void FundamentalDecaysAsAsked(double hertz, double decaySeconds)
    {
        StemSound sound = Pluck(hertz, decaySeconds, held: 3);
        double fall = sound.Density(hertz, hertz + 1, 0.5, 0.8, 8192) - sound.Density(hertz, hertz + 1, 1.5, 1.8, 8192);

        Assert.InRange(fall, 0.85 * 60 / decaySeconds, 1.15 * 60 / decaySeconds);
    }

    [Fact]
    public void DampedStringFallsSilentInItsReleaseTime()
    {
        StemSound sound = Pluck(110, 5, held: 0.5);

        Assert.True(sound.Rms(0.62, 0.7) < sound.Rms(0.4, 0.48) - 45);
    }

    [Fact]
    public void ModesAreDecayingSines()
    {
        float[] output = new float[Rate];
        Mode[] modes = [new(440, 0.5, 0.8, 0.1), new(3210, 0.25, 0.4, 0.7), new(40000, 1, 1, 0)];
        ModalBank.AddTo(output, modes, Rate);

        for (int i = 0; i < Rate / 2; i += 331)
        {
            double time = (double)i / Rate;
            double expected = 0.5 * Math.Pow(10, -3 * time / 0.8) * Math.Sin(2 * Math.PI * (440 * time + 0.1))
                + 0.25 * Math.Pow(10, -3 * time / 0.4) * Math.Sin(2 * Math.PI * (3210 * time + 0.7));
            Assert.Equal(expected, output[i], 5);
        }
    }

    [Fact]
    public void SawHasItsHarmonicsAndNothingBetweenThem()
    {
        const double Hertz = 2093;
        float[] wave = WaveTable.Saw.For(Hertz, Rate);
        float[] output = [.. Enumerable.Range(0, Rate).Select(i => WaveTable.At(wave, i * Hertz / Rate % 1))];
        var sound = new StemSound([output], Rate);

        // Harmonic n of a saw lies 20 log n below the first; between them only what straight lines between points leave.
        double first = sound.Density(Hertz, Hertz + 1, 0, 1, 16384);
        double third = sound.Density(3 * Hertz, 3 * Hertz + 1, 0, 1, 16384);
        Assert.Equal(Decibels.FromAmplitude(3), first - third, 1);
        Assert.True(sound.Density(2.3 * Hertz, 2.7 * Hertz, 0, 1, 16384) < first - 70);
    }

    private static StemSound Pluck(double hertz, double decaySeconds, double held)
    {
        float[] output = new float[3 * Rate];
        var settings = new StringSettings(decaySeconds, 0.1, 0.2, 0.15, 0, 5000, 0.1);
        new PluckedString(Rate).Pluck(output, held, hertz, 0.8, settings, 5);
        return new StemSound([output], Rate);
    }
}
