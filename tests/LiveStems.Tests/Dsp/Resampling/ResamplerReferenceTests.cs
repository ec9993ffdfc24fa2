using LiveStems.Dsp.Resampling;
using Xunit;

namespace LiveStems.Tests.Dsp.Resampling;

public class ResamplerReferenceTests
{
    [Theory]
    [MemberData(nameof(Resample.PairsAtBothPaces), MemberType = typeof(Resample))]
    public void OutputIsThePlainSumInDoubleWithinTheRoundingOfAFloat(int fromRate, int toRate, ResamplingPace pace)
    {
        int frames = (int)(700.0 * Math.Max(1, (double)fromRate / toRate));
        float[] left = Resample.Noise(frames, 1);
        float[] right = Resample.Noise(frames, 2);
        (float[] leftOutput, float[] rightOutput) = Resample.All(fromRate, toRate, left, right, pace);
        ResamplingRatio ratio = new(fromRate, toRate);
        ResamplingPrototype prototype = new(ratio);

        // The output rounds by at most 2⁻²⁵ of up to 2. In the tails (a hundredth of the energy, so each partial sum below
        // about 0.5 for noise of ±1) each of the additions per lane rounds by at most 2⁻²⁶, and the taps by 2⁻²⁵.
        int additions = new RowLayout(ratio, prototype.HalfWidth).WindowFrames / RowLayout.TailLanes;
        // Blocks sum in double, but leave out what the window lets through of images, 150 dB down: noise of ±1 has a root mean
        // square of 0.577, and six times that is never passed; the half-bands around them deviate by 160 dB.
        double tolerance = Math.Pow(2, -24) + (pace == ResamplingPace.Even
            ? Math.Pow(2, -26) * Math.Sqrt(additions * RowLayout.TailLanes)
            : 6 * 0.577 * (Math.Pow(10, -7.5) + Math.Pow(10, -8)));
        int stride = Math.Max(1, leftOutput.Length / 400);
        for (int m = 0; m < leftOutput.Length; m += stride)
        {
            Assert.Equal(PlainSum(ratio, prototype, left, m), leftOutput[m], tolerance);
            Assert.Equal(PlainSum(ratio, prototype, right, m), rightOutput[m], tolerance);
        }
    }

    [Fact]
    public void EqualRatesPassEveryBit()
    {
        float[] left = Resample.Noise(10_000, 3);
        float[] right = Resample.Noise(10_000, 4);
        (float[] leftOutput, float[] rightOutput) = Resample.All(48_000, 48_000, left, right);
        Assert.Equal(left, leftOutput);
        Assert.Equal(right, rightOutput);
    }

    private static double PlainSum(ResamplingRatio ratio, ResamplingPrototype prototype, float[] input, long outputFrame)
    {
        (long frame, int phase) = ratio.Locate(outputFrame);
        double fraction = (double)phase / ratio.Up;
        long reach = (long)Math.Ceiling(prototype.HalfWidth) + 1;
        double sum = 0;
        for (long n = Math.Max(0, frame - reach); n < Math.Min(input.Length, frame + reach); n++)
        {
            sum += input[n] * prototype.At(frame - n + fraction);
        }

        return sum;
    }
}
