using System.Runtime.Intrinsics;
using LiveStems.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Dsp.Dynamics;

public class TriangularMeanTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(48)]
    [InlineData(129)]
    public void AnImpulseComesOutAsATriangleThatSumsToOne(int length)
    {
        TriangularMean mean = new(length);
        double[] response = new double[length + 5];
        for (int i = 0; i < response.Length; i++)
        {
            response[i] = mean.Next(Vector128.Create(i == 0 ? 1.0 : 0)).ToScalar();
        }

        int first = (length + 1) / 2;
        int second = length + 1 - first;
        for (int i = 0; i < response.Length; i++)
        {
            int overlap = Math.Max(0, Math.Min(Math.Min(i + 1, first), Math.Min(second, length - i)));
            Assert.Equal(overlap / ((double)first * second), response[i], 1e-12);
        }

        Assert.Equal(1, response.Sum(), 1e-12);
    }

    [Fact]
    public void AnHourOfNoiseLeavesNothingBehind()
    {
        TriangularMean mean = new(300);
        Random random = new(5);
        for (int i = 0; i < 20_000_000; i++)
        {
            mean.Next(Vector128.Create(60 * random.NextDouble(), 3 * random.NextDouble()));
        }

        Vector128<double> last = default;
        for (int i = 0; i < 300; i++)
        {
            last = mean.Next(Vector128<double>.Zero);
        }

        Assert.Equal(Vector128<double>.Zero, last);
    }
}
