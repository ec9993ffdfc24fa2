using System.Numerics;
using LiveStems.Dsp.Filters;
using Xunit;

namespace LiveStems.Tests.Dsp.Filters;

public class StateVariableCoefficientsTests
{
    [Theory]
    [InlineData(20, 0.7)]
    [InlineData(1000, 12)]
    [InlineData(20000, 0.2)]
    public void BiquadGoesInAndComesOutAgain(double frequencyHz, double q)
    {
        BiquadCoefficients biquad = BiquadDesign.Bell(frequencyHz, q, 7, 48000);
        BiquadCoefficients back = StateVariableCoefficients.FromBiquad(biquad).ToBiquad();
        Assert.Equal(biquad.B0, back.B0, 1e-12);
        Assert.Equal(biquad.B1, back.B1, 1e-12);
        Assert.Equal(biquad.B2, back.B2, 1e-12);
        Assert.Equal(biquad.A1, back.A1, 1e-12);
        Assert.Equal(biquad.A2, back.A2, 1e-12);
    }

    [Fact]
    public void ResponseIsThatOfTheBiquad()
    {
        BiquadCoefficients biquad = BiquadDesign.LowShelf(300, 0.9, -8, 44100);
        StateVariableCoefficients section = StateVariableCoefficients.FromBiquad(biquad);
        for (double omega = 0.001; omega < 3.1; omega *= 1.7)
        {
            Assert.True(Complex.Abs(section.Response(omega) - biquad.Response(omega)) < 1e-9);
        }
    }

    [Fact]
    public void FadedSectionIsACrossFadeOfInputAndOutput()
    {
        StateVariableCoefficients section = StateVariableCoefficients.FromBiquad(BiquadDesign.HighPass(300, 2, 44100));
        for (double omega = 0.001; omega < 3.1; omega *= 1.7)
        {
            Complex expected = 0.7 + 0.3 * section.Response(omega);
            Assert.True(Complex.Abs(section.Faded(0.3).Response(omega) - expected) < 1e-12);
        }

        Assert.Equal(1, section.Faded(0).Direct);
        Assert.Equal(section, section.Faded(1));
    }
}
