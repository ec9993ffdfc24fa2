using LiveStems.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Dsp.Dynamics;

public class HalfWayFilterTests
{
    [Theory]
    [InlineData(8, 4)]
    [InlineData(16, 5)]
    [InlineData(48, 6)]
    [InlineData(64, 6)]
    public void AToneIsFollowedHalfWayUpToTheTransition(int halfLength, double beta)
    {
        // Kaiser's formulas: A = β/0.1102 + 8.7; half the transition at twice the rate is (A − 7.95)/(2 · 2.285 (4K − 2))
        // radians, that is this much of the sample rate below its half.
        double attenuation = beta / 0.1102 + 8.7;
        double transition = (attenuation - 7.95) / (2 * 2.285 * (4 * halfLength - 2)) / Math.PI;
        double error = Math.Pow(10, -attenuation / 20);
        HalfWayFilter filter = new(halfLength, beta);
        foreach (double share in new[] { 0.0, 0.2, 0.5, 0.9, 1 })
        {
            double frequency = share * (0.5 - transition);
            float[] tone = new float[600];
            for (int n = 0; n < tone.Length; n++)
            {
                tone[n] = (float)Math.Cos(2 * Math.PI * frequency * n + 1);
            }

            float[] points = new float[340];
            filter.Process(ref tone[130], ref points[0], 333);
            for (int n = 0; n < 333; n++)
            {
                double expected = Math.Cos(2 * Math.PI * frequency * (n + 130.5) + 1);
                Assert.Equal(expected, points[n], 2 * error + 1e-6);
            }
        }
    }

    [Fact]
    public void FourVectorsAtOnceGiveTheBitsOfOne()
    {
        HalfWayFilter filter = new(48, 6);
        float[] signal = TestSignals.WhiteNoise(400, 1);
        float[] together = new float[136];
        filter.Process(ref signal[100], ref together[0], 128);
        float[] single = new float[8];
        for (int n = 0; n < 128; n++)
        {
            filter.Process(ref signal[100 + n], ref single[0], 1);
            Assert.Equal(single[0], together[n]);
        }
    }

    [Fact]
    public void AConstantStaysWhatItIs()
    {
        float[] ones = [.. Enumerable.Repeat(1f, 300)];
        float[] points = new float[16];
        new HalfWayFilter(64, 6).Process(ref ones[100], ref points[0], 8);
        Assert.Equal(1, points[0], 1e-6);
    }
}
