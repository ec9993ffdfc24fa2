using LiveStems.Analysis.Parallels;
using LiveStems.Dsp.Filters;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Analysis.Parallels;

public class PathDelayEstimatorTests
{
    private const int Frames = 96_000;

    [Theory]
    [InlineData(0.0, 1)]
    [InlineData(0.25, 1)]
    [InlineData(7.37, 1)]
    [InlineData(-3.81, 1)]
    [InlineData(123.456, -1)]
    [InlineData(-1200.5, -1)]
    public void KnownFractionalDelayIsFoundToAHundredthOfASample(double delay, int sign)
    {
        // Noise low-passed at a quarter of the rate, so that a Kaiser-windowed sinc of 96 taps delays all of it exactly.
        float[] noise = LowPassed(Noise.White(Frames, 3));
        float[] late = Delayed(noise, delay, sign);
        PathDelayEstimator estimator = new(2400);
        for (int start = 0; start < Frames; start += 1000)
        {
            estimator.Add(noise.AsSpan(start, 1000), noise.AsSpan(start, 1000), late.AsSpan(start, 1000), late.AsSpan(start, 1000));
        }

        PathDelay found = estimator.Finish()!.Value;
        Assert.Equal(delay, found.Samples, 0.01);
        Assert.Equal(sign, Math.Sign(found.Correlation));
        Assert.True(Math.Abs(found.Correlation) > 0.8);
    }

    [Fact]
    public void SilenceHasNoDelay()
    {
        PathDelayEstimator estimator = new(100);
        float[] silence = new float[20_000];
        estimator.Add(silence, silence, silence, silence);
        Assert.Null(estimator.Finish());
    }

    private static float[] LowPassed(float[] sound)
    {
        float[] smooth = new float[sound.Length];
        for (int n = 0; n < sound.Length; n++)
        {
            double sum = 0;
            for (int k = -32; k <= 32; k++)
            {
                double x = k / 2.0;
                double tap = 0.5 * (x == 0 ? 1 : Math.Sin(Math.PI * x) / (Math.PI * x)) * (0.5 + 0.5 * Math.Cos(Math.PI * k / 33));
                sum += tap * (n - k >= 0 && n - k < sound.Length ? sound[n - k] : 0);
            }

            smooth[n] = (float)sum;
        }

        return smooth;
    }

    private static float[] Delayed(float[] sound, double delay, int sign)
    {
        double[] taps = new double[FractionalDelayKernel.Length];
        int whole = (int)Math.Floor(delay);
        FractionalDelayKernel.Fill(delay - whole, taps);
        float[] late = new float[sound.Length];
        for (int n = 0; n < sound.Length; n++)
        {
            double sum = 0;
            for (int k = 0; k < taps.Length; k++)
            {
                int place = n - whole - k + FractionalDelayKernel.HalfLength;
                sum += place >= 0 && place < sound.Length ? taps[k] * sound[place] : 0;
            }

            late[n] = (float)(sign * sum);
        }

        return late;
    }
}
