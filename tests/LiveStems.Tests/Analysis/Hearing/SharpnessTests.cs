using LiveStems.Analysis.Hearing;
using Xunit;

namespace LiveStems.Tests.Analysis.Hearing;

/// <summary>DIN 45692:2009, tolerance of the standard: 5 % or 0.05 acum, whichever is larger.</summary>
public class SharpnessTests
{
    private const int FirstThirdHz = 25;
    private const int OneKilohertz = 16;

    [Fact]
    public void ReferenceSoundHasOneAcum()
    {
        // Clause 6: critical-band noise, 920 to 1080 Hz, 60 dB; the third octave around 1 kHz holds it whole.
        double[] levels = Silence();
        levels[OneKilohertz] = 60;
        Assert.Equal(1.00, Sharpness.OfPattern(SpecificLoudness.OfThirdOctaves(levels)), 0.05);
    }

    [Theory]
    [InlineData(13, 0.60)]
    [InlineData(19, 1.49)]
    [InlineData(22, 2.82)]
    public void NarrowBandsHaveTheirTargets(int thirdOctave, double acum)
    {
        // Targets at the nearest named centres, 450, 1850 and 4000 Hz, for 500, 2000 and 4000 Hz: the centre moves by up to a
        // tenth of an octave and a third octave is wider than the critical band, which allows 15 % here.
        double[] levels = Silence();
        levels[thirdOctave] = 60;
        Assert.Equal(acum, Sharpness.OfPattern(SpecificLoudness.OfThirdOctaves(levels)), 0.15 * acum);
    }

    [Theory]
    [InlineData(15.8, 1)]
    [InlineData(18, 1.22790)]
    [InlineData(20, 1.72536)]
    [InlineData(24, 5.54679)]
    public void WeightFollowsTheStandard(double bark, double weight) => Assert.Equal(weight, Sharpness.Weight(bark), 5e-6);

    private static double[] Silence() => [.. Enumerable.Repeat(-60.0, FirstThirdHz + 3)];
}
