using LiveStems.Dsp.Dither;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Dsp.Dither;

public class TriangularDitherTests
{
    private const int Frames = 1_000_000;

    [Theory]
    [InlineData(16, 0.0)]
    [InlineData(16, 0.25)]
    [InlineData(16, 0.5)]
    [InlineData(24, 0.25)]
    public void ErrorHasNoMeanAndAQuarterStepOfPowerWhateverTheSignal(int bits, double offsetInSteps)
    {
        // Lipshitz, Wannamaker and Vanderkooy 1992: total error power q²/4 for triangular dither, mean 0.
        double step = Math.Pow(2, 1 - bits);
        float[] left = Enumerable.Repeat((float)(offsetInSteps * step), Frames).ToArray();
        float[] right = [.. left];
        new TriangularDither(bits, 7).Process(left, right);
        foreach (float[] channel in new[] { left, right })
        {
            double[] errors = [.. channel.Select(sample => sample / step - offsetInSteps)];
            double mean = errors.Average();
            double power = errors.Average(error => error * error);

            // Standard deviations of the estimates: 0.5/√n = 0.0005 of the mean, below 0.0005 of the power; 5 of them.
            Assert.Equal(0, mean, 0.0025);
            Assert.Equal(0.25, power, 0.0025);
        }
    }

    [Fact]
    public void NoiseIsWhiteAndTheChannelsAreIndependent()
    {
        float[] left = new float[Frames];
        float[] right = new float[Frames];
        new TriangularDither(16, 3).Process(left, right);
        double power = left.Average(sample => (double)sample * sample);
        for (int lag = 1; lag <= 16; lag++)
        {
            double product = 0;
            for (int i = lag; i < Frames; i++)
            {
                product += (double)left[i] * left[i - lag];
            }

            Assert.Equal(0, product / Frames / power, 0.005);
        }

        double across = left.Zip(right, (l, r) => (double)l * r).Average();
        Assert.Equal(0, across / power, 0.005);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(7)]
    [InlineData(64)]
    [InlineData(1001)]
    public void BlockLengthDoesNotChangeABit(int block)
    {
        float[] left = Noise.White(5000, 1);
        float[] right = Noise.White(5000, 2);
        float[] otherLeft = [.. left];
        float[] otherRight = [.. right];
        new TriangularDither(24, 9).Process(left, right);
        TriangularDither cut = new(24, 9);
        for (int i = 0; i < otherLeft.Length; i += block)
        {
            int frames = Math.Min(block, otherLeft.Length - i);
            cut.Process(otherLeft.AsSpan(i, frames), otherRight.AsSpan(i, frames));
        }

        Assert.Equal(left, otherLeft);
        Assert.Equal(right, otherRight);
    }

    [Fact]
    public void EverySampleBecomesAWholeMultipleOfAStep()
    {
        float[] left = Noise.White(1003, 1, 1.2f);
        float[] right = Noise.White(1003, 2, 1.2f);
        new TriangularDither(16, 1).Process(left, right);
        Assert.All(left.Concat(right), sample => Assert.Equal(Math.Round(sample * 32_768.0), sample * 32_768.0));
        Assert.True(left.Max() > 1);
    }
}
