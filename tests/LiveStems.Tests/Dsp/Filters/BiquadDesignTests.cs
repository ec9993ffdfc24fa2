using LiveStems.Dsp.Filters;
using Xunit;

namespace LiveStems.Tests.Dsp.Filters;

/// <summary>Worked sets of REFERENCES section 3.2, computed there with numpy from the Audio EQ Cookbook's formulas.</summary>
public class BiquadDesignTests
{
    private const double CoefficientTolerance = 1e-12;

    // The table writes four decimals of a decibel.
    private const double DecibelTolerance = 0.5e-4 + 1e-9;

    [Fact]
    public void BellAtOneKilohertz() => AssertEqual(
        new(1.043953086990335, -1.895320723936596, 0.867722284759857, -1.895320723936596, 0.911675371750192),
        BiquadDesign.Bell(1000, 1, 6, 48000),
        48000,
        (100, 0.0652), (500, 1.8794), (1000, 6.0000), (2000, 1.8660), (10000, 0.0476));

    [Fact]
    public void BellThatCuts() => AssertEqual(
        new(0.995651101139625, -1.968968864556643, 0.974567449883823, -1.968968864556643, 0.970218551023447),
        BiquadDesign.Bell(250, 1.4, -3, 44100),
        44100,
        (100, -0.3154), (125, -0.5600), (250, -3.0000), (500, -0.5597));

    [Fact]
    public void LowShelfOfSlopeOne() => AssertEqual(
        new(1.002138206496617, -1.983461995087074, 0.981537735971435, -1.983501472941883, 0.983636464613243),
        BiquadDesign.LowShelf(100, BiquadDesign.QFromShelfSlope(1, 4), 4, 48000),
        48000,
        (20, 3.9934), (50, 3.7578), (100, 2.0000), (200, 0.2422));

    [Fact]
    public void HighShelfThatCuts() => AssertEqual(
        new(0.797556833918807, -0.421284129524760, 0.176526348309877, -0.709104831843570, 0.261903884547494),
        BiquadDesign.HighShelf(8000, Math.Sqrt(0.5), -3, 48000),
        48000,
        (4000, -0.1353), (8000, -1.5000), (10000, -2.2663), (16000, -2.9627));

    [Fact]
    public void HighPass() => AssertEqual(
        new(0.991704195577231, -1.983408391154462, 0.991704195577231, -1.983339569599340, 0.983477212709585),
        BiquadDesign.HighPass(90, Math.Sqrt(0.5), 48000),
        48000,
        (20, -26.1393), (45, -12.3046), (90, -3.0103), (180, -0.2633));

    [Fact]
    public void LowPass() => AssertEqual(
        new(0.078348780273292, 0.156697560546584, 0.078348780273292, -1.067263705429730, 0.380658826522898),
        BiquadDesign.LowPass(10500, Math.Sqrt(0.5), 96000),
        96000,
        (5250, -0.2338), (10000, -2.5770), (10500, -3.0103), (21000, -14.5752));

    [Fact]
    public void NotchAtTheMains()
    {
        BiquadCoefficients notch = BiquadDesign.Notch(50, 30, 48000);
        AssertEqual(
            new(0.999890929598194, -1.999739027196860, 0.999890929598194, -1.999739027196860, 0.999781859196389),
            notch,
            48000,
            (25, -0.0021), (100, -0.0021));
        Assert.True(notch.GainDb(50, 48000) < -150);
    }

    [Fact]
    public void AllPassTurnsHalfACircleAtItsCentre()
    {
        BiquadCoefficients allPass = BiquadDesign.AllPass(1000, Math.Sqrt(0.5), 48000);
        AssertEqual(
            new(0.831005589346758, -1.815341082704568, 1, -1.815341082704568, 0.831005589346758),
            allPass,
            48000,
            (10, 0), (1000, 0), (23000, 0));
        Assert.Equal(Math.PI, Math.Abs(allPass.Response(2 * Math.PI * 1000 / 48000).Phase), 1e-9);
    }

    [Fact]
    public void BandPassOfOneOctave() => AssertEqual(
        new(0.131422836535675, 0, -0.131422836535675, -1.580871431016001, 0.737154326928650),
        BiquadDesign.BandPass(3000, BiquadDesign.QFromOctaves(1, 3000, 44100), 44100),
        44100,
        (1500, -7.3134), (3000, 0.0000), (6000, -7.7372));

    [Fact]
    public void ConstantSkirtBandPassIsTheOtherTimesQ()
    {
        BiquadCoefficients peak = BiquadDesign.BandPass(700, 5, 48000);
        BiquadCoefficients skirt = BiquadDesign.BandPassConstantSkirt(700, 5, 48000);
        Assert.Equal(5 * peak.B0, skirt.B0, CoefficientTolerance);
        Assert.Equal(5 * peak.B2, skirt.B2, CoefficientTolerance);
        Assert.Equal(peak.A2, skirt.A2);
    }

    // Read [RBJ]: equal boost and cut cancel exactly.
    [Fact]
    public void BoostAndCutCancel()
    {
        BiquadCoefficients boost = BiquadDesign.Bell(3000, 2, 9, 48000);
        BiquadCoefficients cut = BiquadDesign.Bell(3000, 2, -9, 48000);
        foreach (double f in new double[] { 20, 1000, 3000, 5000, 20000 })
        {
            Assert.Equal(0, boost.GainDb(f, 48000) + cut.GainDb(f, 48000), 1e-9);
        }
    }

    private static void AssertEqual(
        BiquadCoefficients expected, BiquadCoefficients actual, double sampleRate, params (double Hertz, double Decibels)[] gains)
    {
        Assert.Equal(expected.B0, actual.B0, CoefficientTolerance);
        Assert.Equal(expected.B1, actual.B1, CoefficientTolerance);
        Assert.Equal(expected.B2, actual.B2, CoefficientTolerance);
        Assert.Equal(expected.A1, actual.A1, CoefficientTolerance);
        Assert.Equal(expected.A2, actual.A2, CoefficientTolerance);
        Assert.True(actual.IsStable);
        Assert.All(gains, gain => Assert.Equal(gain.Decibels, actual.GainDb(gain.Hertz, sampleRate), DecibelTolerance));
    }
}
