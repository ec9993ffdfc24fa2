using LiveStems.Dsp.Filters;
using Xunit;

namespace LiveStems.Tests.Dsp.Filters;

public class AnaloguePrototypeTests
{
    private static double Gain(FilterShape shape, double frequencyHz, double gainDb = 0, double q = 1, int order = 2) =>
        AnaloguePrototype.GainDb(new(shape, 1000, gainDb, q, order), frequencyHz);

    // Read [RBJ] (REFERENCES 3.1): a bell has its gain at its centre, a shelf half of it at its frequency.
    [Theory]
    [InlineData(12.0)]
    [InlineData(-24.0)]
    public void GainsStandWhereTheCookbookPutsThem(double gainDb)
    {
        Assert.Equal(gainDb, Gain(FilterShape.Bell, 1000, gainDb), 1e-9);
        Assert.Equal(0, Gain(FilterShape.Bell, 1e9, gainDb), 1e-9);
        Assert.Equal(gainDb / 2, Gain(FilterShape.LowShelf, 1000, gainDb), 1e-9);
        Assert.Equal(gainDb, Gain(FilterShape.LowShelf, 1e-6, gainDb), 1e-9);
        Assert.Equal(gainDb / 2, Gain(FilterShape.HighShelf, 1000, gainDb), 1e-9);
        Assert.Equal(gainDb, Gain(FilterShape.HighShelf, 1e12, gainDb), 1e-9);
    }

    [Fact]
    public void TiltTurnsAboutItsPivot()
    {
        Assert.Equal(0, Gain(FilterShape.Tilt, 1000, 6, 0.5), 1e-9);
        Assert.Equal(3, Gain(FilterShape.Tilt, 1e12, 6, 0.5), 1e-9);
        Assert.Equal(-3, Gain(FilterShape.Tilt, 1e-6, 6, 0.5), 1e-9);
    }

    // |H|² = 1 / (1 + Ω^±2N).
    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(7)]
    [InlineData(8)]
    public void PassesAreButterworthAndFallSixDecibelsAnOctaveAndOrder(int order)
    {
        Assert.Equal(-10 * Math.Log10(1 + Math.Pow(2, 2 * order)), Gain(FilterShape.LowPass, 2000, order: order), 1e-9);
        Assert.Equal(-10 * Math.Log10(1 + Math.Pow(2, 2 * order)), Gain(FilterShape.HighPass, 500, order: order), 1e-9);
        Assert.Equal(-10 * Math.Log10(2), Gain(FilterShape.LowPass, 1000, order: order), 1e-9);
    }

    [Fact]
    public void SecondOrderPassHasGainQAtItsCorner() =>
        Assert.Equal(20 * Math.Log10(4), Gain(FilterShape.HighPass, 1000, q: 4), 1e-9);

    // Width between the −3.01 dB points is f0/Q: common definition of Q.
    [Fact]
    public void NotchHasTheWidthOfItsQ()
    {
        double half = 0.5 / 10;
        double upper = 1000 * (Math.Sqrt(1 + half * half) + half);
        Assert.Equal(-10 * Math.Log10(2), Gain(FilterShape.Notch, upper, q: 10), 1e-9);
        Assert.True(Gain(FilterShape.Notch, 1000, q: 10) < -300);
    }
}
