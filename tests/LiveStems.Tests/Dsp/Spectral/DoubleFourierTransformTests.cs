using LiveStems.Dsp.Spectral;
using MathNet.Numerics.IntegralTransforms;
using Xunit;
using Complex = System.Numerics.Complex;

namespace LiveStems.Tests.Dsp.Spectral;

public class DoubleFourierTransformTests
{
    [Theory]
    [InlineData(2)]
    [InlineData(4)]
    [InlineData(8)]
    [InlineData(512)]
    [InlineData(131_072)]
    public void SpectrumIsThatOfMathNetAndTheInverseGivesTheSignalBack(int size)
    {
        Random random = new(1);
        double[] signal = [.. Enumerable.Range(0, size).Select(_ => random.NextDouble() * 2 - 1)];
        Complex[] expected = [.. signal.Select(sample => new Complex(sample, 0))];
        Fourier.Forward(expected, FourierOptions.NoScaling);
        DoubleFourierTransform transform = new(size);
        double[] real = new double[transform.Bins];
        double[] imaginary = new double[transform.Bins];
        transform.Forward(signal, real, imaginary);

        // Rounding of 2⁻⁵³ for each of log2 N passes of values around √N, with room for the oracle's own.
        double tolerance = Math.Pow(2, -53) * 20 * Math.Log2(2 * size) * Math.Sqrt(size);
        for (int k = 0; k < transform.Bins; k++)
        {
            Assert.Equal(expected[k].Real, real[k], tolerance);
            Assert.Equal(expected[k].Imaginary, imaginary[k], tolerance);
        }

        double[] back = new double[size];
        transform.Inverse(real, imaginary, back);
        for (int n = 0; n < size; n++)
        {
            Assert.Equal(signal[n], back[n], 1e-14);
        }
    }

    [Fact]
    public void TransformsAllocateNothing()
    {
        DoubleFourierTransform transform = new(1024);
        double[] signal = new double[1024];
        double[] real = new double[513];
        double[] imaginary = new double[513];
        long before = GC.GetAllocatedBytesForCurrentThread();
        transform.Forward(signal, real, imaginary);
        transform.Inverse(real, imaginary, signal);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(8_388_608)]
    public void OtherSizesAreRefused(int size) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new DoubleFourierTransform(size));
}
