using LiveStems.Analysis.Hearing;
using Xunit;

namespace LiveStems.Tests.Analysis.Hearing;

/// <summary>ISO 226:2023; contours computed from the standard's table with its formula by numpy, printed to 0.1 dB.</summary>
public class EqualLoudnessTests
{
    // Rounded to 0.1 dB: half of that, and the rounding of our own arithmetic.
    private const double Tolerance = 0.051;

    [Theory]
    [InlineData(20, 89.5, 99.7, 109.4, 118.9)]
    [InlineData(63, 58.8, 73.0, 85.8, 98.3)]
    [InlineData(100, 48.6, 64.2, 78.5, 92.5)]
    [InlineData(250, 32.1, 50.3, 67.4, 84.3)]
    [InlineData(1000, 20.0, 40.0, 60.0, 80.0)]
    [InlineData(3150, 14.2, 35.5, 56.4, 77.2)]
    [InlineData(8000, 31.4, 51.6, 71.5, 91.3)]
    [InlineData(12_500, 33.0, 51.3, 68.6, 85.6)]
    public void ContoursRunThroughTheLevelsOfTheStandard(double frequencyHz, double at20, double at40, double at60, double at80)
    {
        Assert.Equal(at20, EqualLoudness.LevelDb(20, frequencyHz), Tolerance);
        Assert.Equal(at40, EqualLoudness.LevelDb(40, frequencyHz), Tolerance);
        Assert.Equal(at60, EqualLoudness.LevelDb(60, frequencyHz), Tolerance);
        Assert.Equal(at80, EqualLoudness.LevelDb(80, frequencyHz), Tolerance);
    }

    [Theory]
    [InlineData(40, 440)]
    [InlineData(73, 2717)]
    [InlineData(66, 14_000)]
    public void PhonIsTheInverseOfTheContour(double phon, double frequencyHz) =>
        Assert.Equal(phon, EqualLoudness.Phon(EqualLoudness.LevelDb(phon, frequencyHz), frequencyHz), 1e-6);

    [Fact]
    public void LoudnessDoublesEveryTenPhon()
    {
        // S. S. Stevens' sone scale: 1 sone at 40 phon.
        Assert.Equal(1, EqualLoudness.Sone(40), 1e-12);
        Assert.Equal(8, EqualLoudness.Sone(70), 1e-12);
        Assert.Equal(0, EqualLoudness.Sone(-5));
    }

    [Fact]
    public void NothingBelowTheThresholdOfHearingGetsLouder() =>
        Assert.Equal(EqualLoudness.Phon(-20, 1000), EqualLoudness.Phon(-60, 1000), 1e-9);
}
