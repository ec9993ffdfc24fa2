using System.Numerics;
using LiveStems.Analysis.Hearing;
using LiveStems.Analysis.Spectra;
using LiveStems.Dsp.Filters;
using Xunit;

namespace LiveStems.Tests.Analysis.Hearing;

/// <summary>DIN 45692:2009, tolerance of the standard: 5 % or 0.05 acum, whichever is larger.</summary>
public class SharpnessTests
{
    private const int SampleRate = 48_000;
    private const int Points = 400;

    [Fact]
    public void ReferenceSoundHasOneAcum()
    {
        // Clause 6: critical-band noise, 920 to 1080 Hz, 60 dB.
        SpecificLoudness loudness = BandOfNoise(920, 1080, 60);
        Assert.Equal(1.00, Sharpness.OfPattern(loudness), 0.05);

        // And that sound has the loudness of a tone of 60 phon, 4 sone (ISO 532-1 allows 5 %).
        Assert.Equal(4, loudness.Sone, 0.2);
    }

    [Theory]
    [InlineData(200, 300, 0.38)]
    [InlineData(300, 400, 0.49)]
    [InlineData(400, 510, 0.60)]
    [InlineData(510, 630, 0.71)]
    [InlineData(630, 770, 0.82)]
    [InlineData(770, 920, 0.93)]
    [InlineData(1080, 1270, 1.13)]
    [InlineData(1270, 1480, 1.26)]
    [InlineData(1480, 1720, 1.35)]
    [InlineData(1720, 2000, 1.49)]
    [InlineData(2000, 2320, 1.64)]
    [InlineData(2320, 2700, 1.78)]
    [InlineData(2700, 3150, 2.06)]
    [InlineData(3150, 3700, 2.40)]
    [InlineData(3700, 4400, 2.82)]
    [InlineData(4400, 5300, 3.48)]
    [InlineData(5300, 6400, 4.43)]
    [InlineData(6400, 7700, 5.52)]
    [InlineData(7700, 9500, 6.81)]
    [InlineData(9500, 12_000, 8.55)]
    public void NarrowBandsOfFourSoneHaveTheirTargets(double lowHz, double highHz, double acum)
    {
        // Targets of the standard's annex as a public test bench prints them; bands one Bark wide (Zwicker 1961).
        double low = 30;
        double high = 100;
        for (int step = 0; step < 30; step++)
        {
            double level = (low + high) / 2;
            (low, high) = BandOfNoise(lowHz, highHz, level).Sone < 4 ? (level, high) : (low, level);
        }

        Assert.Equal(acum, Sharpness.OfPattern(BandOfNoise(lowHz, highHz, low)), Math.Max(0.05, 0.05 * acum));
    }

    [Theory]
    [InlineData(15.8, 1)]
    [InlineData(18, 1.22790)]
    [InlineData(20, 1.72536)]
    [InlineData(24, 5.54679)]
    public void WeightFollowsTheStandard(double bark, double weight) => Assert.Equal(weight, Sharpness.Weight(bark), 5e-6);

    // Third-octave levels of even noise between two frequencies, by the power responses of our filters.
    private static SpecificLoudness BandOfNoise(double lowHz, double highHz, double levelDb) => SpecificLoudness.OfThirdOctaves(
        [.. FractionalOctaves.Between(3, 25, 12_500).Select(band => levelDb + 10 * Math.Log10(PassedShare(band, lowHz, highHz) + 1e-12))]);

    private static double PassedShare(OctaveBand band, double lowHz, double highHz)
    {
        BiquadCoefficients[] sections = OctaveBandFilter.Design(band, SampleRate);
        return Enumerable.Range(0, Points).Average(point =>
        {
            double hz = lowHz + (highHz - lowHz) * (point + 0.5) / Points;
            return sections.Aggregate(1.0, (power, section) => power * Math.Pow(Complex.Abs(section.Response(2 * Math.PI * hz / SampleRate)), 2));
        });
    }
}
