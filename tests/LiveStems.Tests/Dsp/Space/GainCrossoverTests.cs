using System.Numerics;
using LiveStems.Dsp.Filters;
using LiveStems.Dsp.Space;
using Xunit;

namespace LiveStems.Tests.Dsp.Space;

public class GainCrossoverTests
{
    private const double SampleRate = 48_000;

    // Powers of a Butterworth low-pass and high-pass of fourth order (REFERENCES section 4) at the bilinear transform's
    // frequency.
    [Theory]
    [InlineData(0, 1)]
    [InlineData(1, 0)]
    [InlineData(2, 0.5)]
    [InlineData(0.8, 1)]
    [InlineData(1, 1)]
    public void PowersOfBothBandsAddUp(double low, double high)
    {
        StateVariableCoefficients[] sections = new StateVariableCoefficients[GainCrossover.SectionCount];
        GainCrossover.Design(low, high, 1000, SampleRate, sections);
        foreach (double frequency in new double[] { 20, 300, 900, 1000, 1100, 3000, 15_000 })
        {
            double omega = 2 * Math.PI * frequency / SampleRate;
            double ratio = Math.Tan(omega / 2) / Math.Tan(Math.PI * 1000 / SampleRate);
            double power = (low * low + high * high * Math.Pow(ratio, 8)) / (1 + Math.Pow(ratio, 8));
            Complex response = sections[0].Response(omega) * sections[1].Response(omega);
            Assert.Equal(Math.Sqrt(power), response.Magnitude, 9);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(0.37)]
    public void EqualGainsAreAGainAlone(double gain)
    {
        StateVariableCoefficients[] sections = new StateVariableCoefficients[GainCrossover.SectionCount];
        GainCrossover.Design(gain, gain, 1000, SampleRate, sections);
        Assert.All(sections, section => Assert.Equal((Math.Sqrt(gain), 0, 0), (section.Direct, section.Band, section.Low)));
    }
}
