using LiveStems.Dsp;
using LiveStems.Dsp.Nonlinear;
using LiveStems.Dsp.Simd;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Dsp.Nonlinear;

public class SoftClipCurveTests
{
    // By hand: c = 1, a = ½ gives b = 1½, and y(1) = 1 − ½² / 2 = 0.875.
    [Theory]
    [InlineData(0.5, 0.5)]
    [InlineData(1, 0.875)]
    [InlineData(1.5, 1)]
    [InlineData(-1, -0.875)]
    [InlineData(-9, -1)]
    public void TheParabolaJoinsTheLineToTheCeiling(double x, double y) =>
        Assert.Equal(y, new SoftClipCurve(1, 0.5).Value(x), 12);

    [Theory]
    [InlineData(0)]
    [InlineData(3)]
    [InlineData(12)]
    public void VectorsGiveTheValuesOfTheFormula(double kneeDb)
    {
        SoftClipCurve curve = SoftClipCurve.FromDecibels(-4, kneeDb);
        float[] samples = TestSignals.WhiteNoise(1003, 1, 2);
        float[] clipped = [.. samples];
        SoftClipCurve.Process(clipped, new Ramp((float)curve.Ceiling), new Ramp((float)curve.KneeStart), 0);
        for (int n = 0; n < samples.Length; n++)
        {
            Assert.Equal(curve.Value(samples[n]), clipped[n], 3e-7);
        }
    }

    [Fact]
    public void NothingBelowTheKneeIsTouched()
    {
        SoftClipCurve curve = SoftClipCurve.FromDecibels(0, 6);
        float[] samples = TestSignals.WhiteNoise(1000, 2, Decibels.ToAmplitude(-6.01));
        float[] clipped = [.. samples];
        SoftClipCurve.Process(clipped, new Ramp((float)curve.Ceiling), new Ramp((float)curve.KneeStart), 0);
        Assert.Equal(samples, clipped);
    }
}
