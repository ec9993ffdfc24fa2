using LiveStems.View.Plots;
using Xunit;

namespace LiveStems.Tests.View.Plots;

public class PlotTests
{
    [Theory]
    [InlineData(20, 0)]
    [InlineData(632.4555320336759, 0.5)]
    [InlineData(20_000, 1)]
    public void EqualDistancesAreEqualRatios(double frequencyHz, double position)
    {
        Assert.Equal(position, LogFrequencyAxis.Audible.ToPosition(frequencyHz), 1e-12);
        Assert.Equal(frequencyHz, LogFrequencyAxis.Audible.ToFrequency(position), 1e-9 * frequencyHz);
    }

    [Fact]
    public void MarksAreOneTwoAndFiveOfEveryDecade() =>
        Assert.Equal([20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000], LogFrequencyAxis.Audible.Marks());

    [Fact]
    public void CurveStandsAtItsHeightAndTheMarksBelowIt()
    {
        (double, double)[] curve = [.. Enumerable.Range(0, 100).Select(i => (20 * Math.Pow(1000, i / 99.0), i < 50 ? 0.0 : -12.0))];
        string[] lines = TerminalPlot.Response(curve).Split(Environment.NewLine);
        Assert.StartsWith("      0 ┤━━━", lines[0], StringComparison.Ordinal);
        Assert.EndsWith("━━━", lines[12], StringComparison.Ordinal);
        Assert.Contains("1k", lines[13], StringComparison.Ordinal);
    }
}
