using LiveStems.Dsp.Spectral;
using Xunit;

namespace LiveStems.Tests.Dsp.Spectral;

public class KaiserWindowTests
{
    // REFERENCES section 10, equal to scipy.signal.kaiser_beta.
    [Theory]
    [InlineData(20, 0)]
    [InlineData(30, 2.11662)]
    [InlineData(40, 3.39532)]
    [InlineData(50, 4.53351)]
    [InlineData(60, 5.65326)]
    [InlineData(65, 6.20426)]
    [InlineData(80, 7.85726)]
    [InlineData(100, 10.06126)]
    [InlineData(120, 12.26526)]
    [InlineData(144, 14.91006)]
    [InlineData(180, 18.87726)]
    public void BetaIsThatOfTheTable(double attenuationDb, double beta) =>
        Assert.Equal(beta, KaiserWindow.Beta(attenuationDb), 5e-6);

    // REFERENCES section 10: attenuation, rate and transition in hertz, taps.
    [Theory]
    [InlineData(100, 48_000, 2_000, 155)]
    [InlineData(120, 48_000, 4_000, 95)]
    [InlineData(144, 96_000, 4_000, 229)]
    [InlineData(96, 44_100, 2_050, 133)]
    [InlineData(120, 192_000, 4_000, 376)]
    public void TransitionWidthFitsTheTapsOfTheTable(double attenuationDb, double rate, double transition, int taps)
    {
        double width = 2 * Math.PI * transition / rate;
        Assert.True(KaiserWindow.TransitionWidth(attenuationDb, taps) <= width);
        Assert.True(KaiserWindow.TransitionWidth(attenuationDb, taps - 1) > width);
    }

    // Abramowitz and Stegun, table 9.8 (from memory), equal to scipy.special.i0.
    [Theory]
    [InlineData(0, 1)]
    [InlineData(1, 1.2660658777520084)]
    [InlineData(5, 27.239871823604442)]
    [InlineData(20, 43558282.559553534)]
    public void BesselFunctionHasItsTabulatedValues(double x, double expected) =>
        Assert.Equal(1, KaiserWindow.BesselI0(x) / expected, 1e-14);

    [Fact]
    public void WindowIsOneInTheMiddleAndNothingOutside()
    {
        Assert.Equal(1, KaiserWindow.Value(0, 8.6));
        Assert.Equal(1 / KaiserWindow.BesselI0(8.6), KaiserWindow.Value(1, 8.6), 1e-16);
        Assert.Equal(0, KaiserWindow.Value(1.000001, 8.6));
        Assert.Equal(KaiserWindow.Value(0.3, 8.6), KaiserWindow.Value(-0.3, 8.6));
    }
}
