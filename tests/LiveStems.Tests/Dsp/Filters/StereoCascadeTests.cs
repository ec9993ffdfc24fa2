using LiveStems.Dsp.Filters;
using Xunit;

namespace LiveStems.Tests.Dsp.Filters;

public class StereoCascadeTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(5)]
    [InlineData(8)]
    [InlineData(15)]
    public void EqualsPlainBiquadsInSeries(int count)
    {
        Random random = new(count);
        StereoCascade cascade = new(count);
        BiquadCoefficients[] plain = new BiquadCoefficients[count];
        for (int i = 0; i < count; i++)
        {
            StateVariableCoefficients c = StateVariableCoefficients.FromBilinear(
                1 + 0.2 * random.NextDouble(), random.NextDouble(), random.NextDouble(), 0.1 + random.NextDouble(), 0.05 + random.NextDouble());
            cascade.Set(i, c);
            plain[i] = c.ToBiquad();
        }

        float[] left = new float[1000], right = new float[1000];
        double[] expected = new double[1000];
        for (int n = 0; n < 1000; n++)
        {
            left[n] = random.NextSingle() - 0.5f;
            right[n] = -left[n];
            expected[n] = left[n];
        }

        foreach (BiquadCoefficients c in plain)
        {
            double s1 = 0, s2 = 0;
            for (int n = 0; n < expected.Length; n++)
            {
                double x = expected[n];
                double y = c.B0 * x + s1;
                s1 = c.B1 * x - c.A1 * y + s2;
                s2 = c.B2 * x - c.A2 * y;
                expected[n] = y;
            }
        }

        cascade.Process(left, right);
        for (int n = 0; n < 1000; n++)
        {
            Assert.Equal(expected[n], left[n], 1e-6 * Math.Max(1, Math.Abs(expected[n])));
            Assert.Equal(-left[n], right[n]);
        }
    }
}
