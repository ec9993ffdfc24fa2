using LiveStems.Analysis.Hearing;
using LiveStems.Dsp.Spectral;
using Xunit;

namespace LiveStems.Tests.Analysis.Hearing;

/// <summary>Glasberg and Moore 1990, values computed from the printed formulas.</summary>
public class CamScaleTests
{
    [Theory]
    [InlineData(100, 35.494, 3.3696)]
    [InlineData(1000, 132.639, 15.6214)]
    [InlineData(4000, 456.456, 27.1074)]
    [InlineData(16_000, 1751.724, 39.6065)]
    public void BandwidthsAndNumbersFollowTheFormula(double frequencyHz, double bandwidthHz, double cam)
    {
        Assert.Equal(bandwidthHz, ErbScale.BandwidthHz(frequencyHz), 5e-4);
        Assert.Equal(cam, CamScale.FromHz(frequencyHz), 5e-5);
        Assert.Equal(frequencyHz, CamScale.ToHz(CamScale.FromHz(frequencyHz)), 1e-6);
    }

    [Theory]
    [InlineData(100, 0.956)]
    [InlineData(1000, 8.527)]
    [InlineData(8000, 21.203)]
    [InlineData(16_000, 24.070)]
    public void CriticalBandRateFollowsTraunmueller(double frequencyHz, double bark) =>
        Assert.Equal(bark, BarkScale.FromHz(frequencyHz), 5e-4);

    [Theory]
    [InlineData(440, "A4")]
    [InlineData(261.63, "C4")]
    [InlineData(1000, "B5 +21")]
    [InlineData(49, "G1")]
    public void FrequenciesHaveNoteNames(double frequencyHz, string name) => Assert.Equal(name, NoteName.Of(frequencyHz));
}
