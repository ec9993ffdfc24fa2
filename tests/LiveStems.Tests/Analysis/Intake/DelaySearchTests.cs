using System.Numerics;
using LiveStems.Analysis.Intake;
using Xunit;

namespace LiveStems.Tests.Analysis.Intake;

public sealed class DelaySearchTests
{
    private const int Size = 4096;

    // 200 low bins weigh 0.5 each, the others 4e-5: their random phases move the slope by 0.002 samples (one sigma).
    [Theory]
    [InlineData(3.25)]
    [InlineData(-40.5)]
    [InlineData(17)]
    public void FewBinsThatKnowOutvoteManyThatDoNot(double delay)
    {
        Random random = new(11);
        Complex[][] responses = [new Complex[Size / 2 + 1], new Complex[Size / 2 + 1]];
        double[][] coherences = [new double[Size / 2 + 1], new double[Size / 2 + 1]];
        for (int side = 0; side < 2; side++)
        {
            for (int bin = 1; bin < Size / 2; bin++)
            {
                bool knows = bin <= 200;
                double phase = knows ? -2 * Math.PI * bin * delay / Size : 2 * Math.PI * random.NextDouble();
                responses[side][bin] = Complex.FromPolarCoordinates(knows ? 0.8 : 0.3, phase);
                coherences[side][bin] = knows ? 0.9999 : 0.3;
            }
        }

        DelayEstimate found = new DelaySearch(Size).Find(responses, coherences);
        Assert.True(found.IsKnown);
        Assert.Equal(delay, found.Frames, 0.01);
        Assert.Equal([1, 1], found.Signs);
    }
}
