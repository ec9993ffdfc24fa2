using LiveStems.Analysis.Spectra;
using LiveStems.Dsp.Filters;
using Xunit;

namespace LiveStems.Tests.Analysis.Spectra;

public class FractionalOctavesTests
{
    // REFERENCES section 7, computed from IEC 61260-1:2014 equations 1 to 5, to three decimals.
    [Theory]
    [InlineData(25, 25.119, 22.387, 28.184)]
    [InlineData(31.5, 31.623, 28.184, 35.481)]
    [InlineData(100, 100.000, 89.125, 112.202)]
    [InlineData(630, 630.957, 562.341, 707.946)]
    [InlineData(1000, 1000.000, 891.251, 1122.018)]
    [InlineData(3150, 3162.278, 2818.383, 3548.134)]
    [InlineData(20_000, 19952.623, 17782.794, 22387.211)]
    public void ThirdOctavesAreThoseOfTheStandard(double nominal, double mid, double lower, double upper)
    {
        OctaveBand band = Assert.Single(FractionalOctaves.Between(3, 20, 20_000), each => each.NominalHz == nominal);
        Assert.Equal(mid, band.MidHz, 0.0005);
        Assert.Equal(lower, band.LowerHz, 0.0005);
        Assert.Equal(upper, band.UpperHz, 0.0005);
    }

    // First mid-band frequency above 1 kHz: REFERENCES section 7.
    [Theory]
    [InlineData(6, 1059.254)]
    [InlineData(12, 1029.201)]
    [InlineData(24, 1014.495)]
    public void EvenFractionsPutAnEdgeAtOneKilohertz(int bandsPerOctave, double mid)
    {
        OctaveBand band = FractionalOctaves.At(bandsPerOctave, 0);
        Assert.Equal(mid, band.MidHz, 0.0005);
        Assert.Equal(1000, band.LowerHz, 1e-9);
    }

    // IEC 61260-1 E.3.4, read second-hand.
    [Theory]
    [InlineData(41.567, 41.6)]
    [InlineData(8785.2, 8800)]
    public void LabelsOf24thsAreRoundedAsTheStandardDoes(double mid, double nominal)
    {
        OctaveBand band = FractionalOctaves.Between(24, 20, 20_000).MinBy(each => Math.Abs(each.MidHz - mid));
        Assert.Equal(nominal, band.NominalHz);
    }

    [Fact]
    public void NeighboursMeetAndThirdsFrom20To20000HzAre31()
    {
        foreach (int fraction in new[] { 1, 3, 6, 12, 24 })
        {
            OctaveBand[] bands = FractionalOctaves.Between(fraction, 20, 20_000);
            Assert.All(bands.Zip(bands.Skip(1)), pair => Assert.Equal(pair.First.UpperHz, pair.Second.LowerHz, pair.First.UpperHz * 1e-12));
        }

        Assert.Equal(31, FractionalOctaves.Between(3, 20, 20_000).Length);
    }

    // Class 1 mask of third octaves at Ω = f / fm: IEC 61260-3:2016 Table C.1, read second-hand (REFERENCES section 7);
    // it holds at 1/Ω too. The bilinear transform only steepens the upper flank.
    [Theory]
    [InlineData(1.00000, -0.4, 0.4)]
    [InlineData(1.02667, -0.4, 0.5)]
    [InlineData(1.05575, -0.4, 0.7)]
    [InlineData(1.08746, -0.4, 1.4)]
    [InlineData(1.29437, 16.6, double.PositiveInfinity)]
    [InlineData(1.88173, 40.5, double.PositiveInfinity)]
    [InlineData(3.05365, 60, double.PositiveInfinity)]
    [InlineData(5.39195, 70, double.PositiveInfinity)]
    public void BandFiltersAreInsideTheLimitsOfClass1(double ratio, double least, double most)
    {
        foreach (OctaveBand band in FractionalOctaves.Between(3, 31.5, 16_000))
        {
            foreach (double frequency in new[] { band.MidHz * ratio, band.MidHz / ratio })
            {
                if (frequency < 24_000)
                {
                    double attenuation = -OctaveBandFilter.Design(band, 48_000).Sum(section => section.GainDb(frequency, 48_000));
                    Assert.InRange(attenuation, least, most);
                }
            }
        }
    }
}
