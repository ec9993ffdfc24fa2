using LiveStems.Dsp.Spectral;
using MathNet.Numerics.IntegralTransforms;
using Xunit;
using Complex = System.Numerics.Complex;

namespace LiveStems.Tests.Dsp.Spectral;

public class RealFourierTransformTests
{
    public static TheoryData<int> Sizes => [.. Enumerable.Range(4, 13).Select(power => 1 << power)];

    public static TheoryData<int> SmallSizes => [16, 32, 64, 128, 256, 512];

    // Rounding of a transform in floats: relative root mean square error about 0.6·2⁻²⁴·√(log2 N) (Schatzman, SIAM Journal
    // on Scientific Computing 17 (1996), from memory); three times that is allowed.
    private static double Tolerance(int size) => 3 * 0.6 * Math.Pow(2, -24) * Math.Sqrt(Math.Log2(size));

    [Theory]
    [MemberData(nameof(Sizes))]
    public void SpectrumIsThatOfMathNet(int size)
    {
        float[] signal = Signal(size, 1);
        Complex[] expected = [.. signal.Select(sample => new Complex(sample, 0))];
        Fourier.Forward(expected, FourierOptions.NoScaling);
        (float[] real, float[] imaginary) = Forward(size, signal);
        AssertClose(expected, real, imaginary, Tolerance(size));
    }

    [Theory]
    [MemberData(nameof(SmallSizes))]
    public void SpectrumIsThatOfTheDefinition(int size)
    {
        float[] signal = Signal(size, 2);
        Complex[] expected = new Complex[size / 2 + 1];
        for (int k = 0; k < expected.Length; k++)
        {
            for (int n = 0; n < size; n++)
            {
                expected[k] += signal[n] * Complex.FromPolarCoordinates(1, -2 * Math.PI * (k * n % size) / size);
            }
        }

        (float[] real, float[] imaginary) = Forward(size, signal);
        AssertClose(expected, real, imaginary, Tolerance(size));
    }

    [Theory]
    [MemberData(nameof(Sizes))]
    public void InverseGivesTheSignalBack(int size)
    {
        float[] signal = Signal(size, 3);
        RealFourierTransform transform = new(size);
        (float[] real, float[] imaginary) = Forward(size, signal);
        float[] back = new float[size];
        transform.Inverse(real, imaginary, back);
        double error = Math.Sqrt(signal.Zip(back, (a, b) => ((double)a - b) * ((double)a - b)).Sum());
        double energy = Math.Sqrt(signal.Sum(sample => (double)sample * sample));
        Assert.True(error < 2 * Tolerance(size) * energy, $"{error / energy} for {size}");
    }

    [Theory]
    [MemberData(nameof(Sizes))]
    public void ImpulseGivesEveryBinOneAndItsTurn(int size)
    {
        float[] signal = new float[size];
        signal[1] = 1;
        (float[] real, float[] imaginary) = Forward(size, signal);
        for (int k = 0; k < real.Length; k++)
        {
            (double sin, double cos) = Math.SinCos(2 * Math.PI * k / size);
            Assert.Equal(cos, real[k], 1e-6);
            Assert.Equal(-sin, imaginary[k], 1e-6);
        }
    }

    [Theory]
    [MemberData(nameof(Sizes))]
    public void ConstantGivesTheFirstBinAloneAndAlternationTheLast(int size)
    {
        float[] ones = [.. Enumerable.Repeat(1f, size)];
        float[] alternating = [.. Enumerable.Range(0, size).Select(n => n % 2 == 0 ? 1f : -1f)];
        (float[] low, _) = Forward(size, ones);
        (float[] high, _) = Forward(size, alternating);

        // All sums are exact but those with rounded cosines, each of which is wrong by 2⁻²⁵ at most.
        double tolerance = size / 33_554_432.0;
        for (int k = 0; k <= size / 2; k++)
        {
            Assert.Equal(k == 0 ? size : 0, low[k], tolerance);
            Assert.Equal(k == size / 2 ? size : 0, high[k], tolerance);
        }
    }

    [Fact]
    public void ImaginaryPartsAtTheEndsAreZeroAndNotRead()
    {
        foreach (int size in (int[])[16, 1024])
        {
            RealFourierTransform transform = new(size);
            (float[] real, float[] imaginary) = Forward(size, Signal(size, 4));
            Assert.Equal(0, imaginary[0]);
            Assert.Equal(0, imaginary[^1]);
            float[] clean = new float[size];
            transform.Inverse(real, imaginary, clean);
            imaginary[0] = 100;
            imaginary[^1] = -100;
            float[] spoilt = new float[size];
            transform.Inverse(real, imaginary, spoilt);
            Assert.Equal(clean, spoilt);
        }
    }

    // REFERENCES section 9: with N = 4096 and a Hann window a bin-centred sine of 0.5 reads 0.5, its power 0.125.
    [Fact]
    public void SineReadsItsAmplitudeAndItsPowerThroughAHannWindow()
    {
        const int size = 4096;
        AnalysisWindow window = AnalysisWindow.Hann(size);
        float[] sine = [.. Enumerable.Range(0, size).Select(n => (float)(0.5 * Math.Sin(2 * Math.PI * 100 * n / size)))];
        float[] windowed = new float[size];
        window.Apply(sine, windowed);
        (float[] real, float[] imaginary) = Forward(size, windowed);
        double[] powers = [.. real.Zip(imaginary, (re, im) => (double)re * re + (double)im * im)];
        Assert.Equal(0.5, 2 * Math.Sqrt(powers[100]) / (size * window.CoherentGain), 5e-7);
        Assert.Equal(0.125, powers.Sum(power => 2 * power / ((double)size * size * window.PowerGain)), 5e-7);
    }

    [Fact]
    public void LongerSpansKeepTheirRest()
    {
        RealFourierTransform transform = new(256);
        float[] real = [.. Enumerable.Repeat(7f, 200)];
        float[] imaginary = [.. Enumerable.Repeat(7f, 200)];
        transform.Forward(Signal(300, 5), real, imaginary);
        Assert.All(real[129..], value => Assert.Equal(7, value));
        Assert.All(imaginary[129..], value => Assert.Equal(7, value));
        float[] signal = [.. Enumerable.Repeat(7f, 300)];
        transform.Inverse(real, imaginary, signal);
        Assert.All(signal[256..], value => Assert.Equal(7, value));
    }

    [Theory]
    [InlineData(8)]
    [InlineData(0)]
    [InlineData(-16)]
    [InlineData(1000)]
    [InlineData(131_072)]
    public void OtherSizesAreRefused(int size) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new RealFourierTransform(size));

    [Fact]
    public void ShortSpansAreRefused()
    {
        RealFourierTransform transform = new(256);
        Assert.Throws<ArgumentOutOfRangeException>(() => transform.Forward(new float[255], new float[129], new float[129]));
        Assert.Throws<ArgumentOutOfRangeException>(() => transform.Forward(new float[256], new float[128], new float[129]));
        Assert.Throws<ArgumentOutOfRangeException>(() => transform.Inverse(new float[129], new float[128], new float[256]));
    }

    [Theory]
    [InlineData(64)]
    [InlineData(2048)]
    public void TransformsAllocateNothing(int size)
    {
        RealFourierTransform transform = new(size);
        float[] signal = Signal(size, 6);
        float[] real = new float[transform.Bins];
        float[] imaginary = new float[transform.Bins];
        long before = GC.GetAllocatedBytesForCurrentThread();
        transform.Forward(signal, real, imaginary);
        transform.Inverse(real, imaginary, signal);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    private static (float[] Real, float[] Imaginary) Forward(int size, float[] signal)
    {
        RealFourierTransform transform = new(size);
        float[] real = new float[transform.Bins];
        float[] imaginary = new float[transform.Bins];
        transform.Forward(signal, real, imaginary);
        return (real, imaginary);
    }

    private static float[] Signal(int size, int seed)
    {
        Random random = new(seed);
        return [.. Enumerable.Range(0, size).Select(_ => (float)(random.NextDouble() * 2 - 1))];
    }

    private static void AssertClose(Complex[] expected, float[] real, float[] imaginary, double tolerance)
    {
        double energy = 0;
        double error = 0;
        for (int k = 0; k < real.Length; k++)
        {
            energy += expected[k].Magnitude * expected[k].Magnitude;
            double distance = (expected[k] - new Complex(real[k], imaginary[k])).Magnitude;
            error += distance * distance;
        }

        Assert.True(Math.Sqrt(error / energy) < tolerance, $"{Math.Sqrt(error / energy)} against {tolerance}");
    }
}
