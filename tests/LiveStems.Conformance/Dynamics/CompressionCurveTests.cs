using LiveStems.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Conformance.Dynamics;

/// <summary>
/// The static curves of D. Giannoulis, M. Massberg, J. D. Reiss, "Digital Dynamic Range Compressor Design: A Tutorial and
/// Analysis", JAES 60(6), 2012, 399-408: worked values of eq. 4 (equations from memory, agreeing with the knee of the
/// Faust library's compressors.lib), and its downward-expander mirror.
/// </summary>
public class CompressionCurveTests
{
    [Theory]
    [InlineData(-20, 4, 0, -20, 0)]
    [InlineData(-20, 4, 0, -18, -1.5)]
    [InlineData(-20, 4, 0, -14, -4.5)]
    [InlineData(-20, 4, 0, -12, -6)]
    [InlineData(-20, 4, 0, -6, -10.5)]
    [InlineData(-20, 4, 0, 0, -15)]
    [InlineData(-20, 4, 6, -23, 0)]
    [InlineData(-20, 4, 6, -22, -0.0625)]
    [InlineData(-20, 4, 6, -20, -0.5625)]
    [InlineData(-20, 4, 6, -18, -1.5625)]
    [InlineData(-20, 4, 6, -17, -2.25)]
    [InlineData(-20, 4, 6, 0, -15)]
    [InlineData(-18, 2, 12, -24, 0)]
    [InlineData(-18, 2, 12, -22, -0.0833)]
    [InlineData(-18, 2, 12, -20, -0.3333)]
    [InlineData(-18, 2, 12, -18, -0.75)]
    [InlineData(-18, 2, 12, -14, -2.0833)]
    [InlineData(-18, 2, 12, 0, -9)]
    [InlineData(-12, double.PositiveInfinity, 6, -14, -0.0833)]
    [InlineData(-12, double.PositiveInfinity, 6, -12, -0.75)]
    [InlineData(-12, double.PositiveInfinity, 6, -10, -2.0833)]
    [InlineData(-12, double.PositiveInfinity, 6, 0, -12)]
    public void CompressorGainFollowsTheWorkedValues(double thresholdDb, double ratio, double kneeDb, double levelDb, double gainDb)
    {
        // The table has four decimals.
        Assert.Equal(gainDb, -GainComputer.Compressor(thresholdDb, ratio, kneeDb).ReductionDb(levelDb), 0.00006);
    }

    [Theory]
    [InlineData(-45, 0)]
    [InlineData(-48, -0.45)]
    [InlineData(-50, -1.25)]
    [InlineData(-52, -2.45)]
    [InlineData(-55, -5)]
    [InlineData(-60, -10)]
    public void ExpanderGainFollowsTheWorkedValues(double levelDb, double gainDb)
    {
        Assert.Equal(gainDb, -GainComputer.Expander(-50, 2, 10, 80).ReductionDb(levelDb), 1e-9);
    }
}
