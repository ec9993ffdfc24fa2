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
        double[] impulse = new double[length + 5];
        impulse[0] = 1;
        float[] response = new float[length + 5];
        new TriangularMean(length, impulse.Length).Process(impulse, response);

        int first = (length + 1) / 2;
        int second = length + 1 - first;
        for (int i = 0; i < response.Length; i++)
        {
            int overlap = Math.Max(0, Math.Min(Math.Min(i + 1, first), Math.Min(second, length - i)));
            Assert.Equal(overlap / ((double)first * second), response[i], 1e-7);
        }

        // Half a unit of the last place of a float each.
        Assert.Equal(1, response.Sum(value => (double)value), 1e-7);
    }

    [Fact]
    public void AnHourOfNoiseLeavesNothingBehind()
    {
        TriangularMean mean = new(300, 400);
        Random random = new(5);
        double[] values = new double[400];
        float[] means = new float[400];
        for (int run = 0; run < 50_000; run++)
        {
            for (int i = 0; i < values.Length; i++)
            {
                values[i] = 60 * random.NextDouble();
            }

            mean.Process(values, means);
        }

        Array.Clear(values);
        mean.Process(values, means);
        Assert.All(means[300..], value => Assert.Equal(0, value));
        Assert.NotEqual(0, means[290]);
    }

    [Theory]
    [InlineData(2)]
    [InlineData(64)]
    [InlineData(145)]
    public void RunsOfAnyLengthGiveTheBitsOfTheWeightedSum(int length)
    {
        Random random = new(length);
        double[] values = [.. Enumerable.Range(0, 2000).Select(_ => Math.ScaleB(Math.Round(Math.ScaleB(40 * random.NextDouble(), 20)), -20))];
        TriangularMean mean = new(length, 128);
        float[] means = new float[values.Length];
        for (int done = 0, run = 1; done < values.Length; done += run)
        {
            run = Math.Min(random.Next(1, 129), values.Length - done);
            mean.Process(values.AsSpan(done, run).ToArray(), means.AsSpan(done, run));
        }

        int first = (length + 1) / 2;
        int second = length + 1 - first;
        double scale = 1.0 / ((double)first * second);
        for (int n = 0; n < values.Length; n++)
        {
            double sum = 0;
            for (int back = 0; back < length && back <= n; back++)
            {
                sum += values[n - back] * Math.Min(Math.Min(back + 1, length - back), Math.Min(first, second));
            }

            // Whole grains: the sum is exact.
            Assert.Equal((float)(sum * scale), means[n]);
        }
    }
}
