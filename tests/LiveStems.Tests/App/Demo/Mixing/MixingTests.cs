using LiveStems.App.Demo.Mixing;
using LiveStems.Dsp;
using Xunit;

namespace LiveStems.Tests.App.Demo.Mixing;

public class MixingTests
{
    private const int Rate = 48000;

    [Fact]
    public void FiltersHaveTheGainTheyAreAskedForAtTheirFrequency()
    {
        // R. Bristow-Johnson's cookbook: exact at the centre of bells, −3.01 dB at the corner for Q = 1/√2, half the gain
        // of a shelf at its middle.
        Assert.Equal(6, Gain(Biquad.Bell(1000, 1.4, 6, Rate), 1000), 2);
        Assert.Equal(-3.01, Gain(Biquad.LowPass(1000, Math.Sqrt(0.5), Rate), 1000), 2);
        Assert.Equal(-3.01, Gain(Biquad.HighPass(1000, Math.Sqrt(0.5), Rate), 1000), 2);
        Assert.Equal(0, Gain(Biquad.BandPass(1000, 3, Rate), 1000), 2);
        Assert.Equal(4, Gain(Biquad.HighShelf(1000, 8, Rate), 1000), 2);
        Assert.Equal(4, Gain(Biquad.LowShelf(1000, 8, Rate), 1000), 2);
        Assert.Equal(8, Gain(Biquad.LowShelf(3000, 8, Rate), 50), 1);
        Assert.Equal(0, Gain(Biquad.LowShelf(300, 8, Rate), 15000), 1);
    }

    [Fact]
    public void SaturatorLeavesSmallSignalsAloneAndBoundsLargeOnes()
    {
        float[] small = Sine(200, 0.01);
        float[] large = Sine(200, 20);
        Saturator.Process(small, 0);
        Saturator.Process(large, 0);

        // The mean of two samples and the 5 Hz coupling take 0.05 % at 200 Hz, the curve 0.004 %; the peak falls between samples.
        Assert.InRange(Peak(small[(Rate / 2)..]), 0.00998, 0.01);
        Assert.InRange(Peak(large[(Rate / 2)..]), 0.95, 1.05);
    }

    [Fact]
    public void SaturatorWithBiasLeavesNoOffset()
    {
        float[] sound = Sine(200, 0.8);
        Saturator.Process(sound, 12, 0.4);

        Assert.InRange(sound.Skip(Rate / 2).Average(), -2e-3, 2e-3);
    }

    [Fact]
    public void CompressorFollowsItsRatio()
    {
        // Two whole periods to a step of 32 frames: the detector sees no ripple.
        float[] sound = Sine(3000, 0.5);
        BusCompressor.Process(sound, sound, Rate, -20, 4, 5, 50);

        // −9.03 dBFS RMS lies 10.97 dB above the threshold: a quarter of it remains.
        double rms = Decibels.FromPower(sound.Skip(Rate / 2).Average(value => value * value));
        Assert.Equal(-20 + 10.97 / 4, rms, 0.15);
    }

    [Theory]
    [InlineData(0.6, 0.35)]
    [InlineData(2.0, 0.8)]
    public void RoomDiesAwayInItsTime(double decaySeconds, double size)
    {
        var click = new StereoTrack(3 * Rate, Rate);
        click.Left[0] = click.Right[0] = 1;
        StereoTrack wet = Room.Render(click, new RoomSettings(decaySeconds, size, 5, 20000, 20));

        // M. Schroeder's backward integration: −5 to −25 dB, times three.
        double[] energy = new double[wet.Frames + 1];
        for (int i = wet.Frames - 1; i >= 0; i--)
        {
            energy[i] = energy[i + 1] + wet.Left[i] * wet.Left[i] + wet.Right[i] * wet.Right[i];
        }

        double Time(double level) => (double)Array.FindIndex(energy, value => value < energy[0] * Decibels.ToPower(level)) / Rate;
        Assert.InRange(3 * (Time(-25) - Time(-5)), 0.8 * decaySeconds, 1.2 * decaySeconds);
    }

    [Fact]
    public void RoughMixDoesNotDependOnTheOrderOfStems()
    {
        var noise = new Noise(4);
        float[][][] stems = [.. Enumerable.Range(0, 5).Select(i => new[] { Random(ref noise), Random(ref noise) })];
        var forwards = new RoughMix(1000);
        var backwards = new RoughMix(1000);
        foreach (float[][] stem in stems)
        {
            forwards.Add(stem);
        }

        foreach (float[][] stem in stems.Reverse())
        {
            backwards.Add(stem);
        }

        Assert.Equal(forwards.Finish()[0], backwards.Finish()[0]);
        Assert.Equal(stems.Sum(stem => (double)stem[1][500]), forwards.Finish()[1][500], 6);
    }

    [Fact]
    public void NoiseIsEvenAndRepeatable()
    {
        var noise = new Noise(11);
        float[] values = [.. Enumerable.Range(0, 200_000).Select(_ => noise.Next())];

        // Power of an even distribution over ±1 is 1/3; the mean of 200 000 strays by 0.0013.
        Assert.InRange(values.Average(), -0.007, 0.007);
        Assert.InRange(values.Average(value => (double)value * value), 0.327, 0.340);
        Assert.Equal(values[0], new Noise(11).Next());
        Assert.NotEqual(values[0], new Noise(12).Next());
    }

    private static float[] Random(ref Noise noise)
    {
        float[] samples = new float[1000];
        for (int i = 0; i < samples.Length; i++)
        {
            samples[i] = 0.3f * noise.Next();
        }

        return samples;
    }

    private static double Gain(Biquad filter, double hertz)
    {
        float[] sound = Sine(hertz, 0.5);
        Biquad.Process(filter, sound);
        double power = sound.Skip(Rate / 2).Average(value => (double)value * value);
        return Decibels.FromPower(power / 0.125);
    }

    private static float[] Sine(double hertz, double amplitude) =>
        [.. Enumerable.Range(0, Rate).Select(i => (float)(amplitude * Math.Sin(2 * Math.PI * hertz * i / Rate)))];

    private static double Peak(float[] samples) => samples.Max(Math.Abs);
}
