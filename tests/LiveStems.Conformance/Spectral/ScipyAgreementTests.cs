using LiveStems.Dsp.Spectral;
using Xunit;

namespace LiveStems.Conformance.Spectral;

public class ScipyAgreementTests
{
    [Theory]
    [InlineData(16)]
    [InlineData(64)]
    [InlineData(128)]
    [InlineData(1024)]
    [InlineData(2048)]
    [InlineData(65_536)]
    public void SpectraAreThoseOfScipy(int size)
    {
        Random random = new(1);
        float[] signal = [.. Enumerable.Range(0, size).Select(_ => (float)(random.NextDouble() * 2 - 1))];
        double[] doubles = [.. signal.Select(sample => (double)sample)];
        double[] expected = Scipy.Evaluate("scipy.fft.rfft(x)", doubles);

        RealFourierTransform transform = new(size);
        float[] real = new float[transform.Bins];
        float[] imaginary = new float[transform.Bins];
        transform.Forward(signal, real, imaginary);
        DoubleFourierTransform precise = new(size);
        double[] preciseReal = new double[transform.Bins];
        double[] preciseImaginary = new double[transform.Bins];
        precise.Forward(doubles, preciseReal, preciseImaginary);

        // Values have a root mean square of √(N/3); each of log2 N passes rounds by 2⁻²⁴ (2⁻⁵³) of it, and the largest of
        // N errors lies within five standard deviations.
        double scale = 5 * Math.Sqrt(size / 3.0) * Math.Sqrt(Math.Log2(size));
        for (int k = 0; k < transform.Bins; k++)
        {
            Assert.Equal(expected[2 * k], real[k], scale * Math.Pow(2, -24));
            Assert.Equal(expected[2 * k + 1], imaginary[k], scale * Math.Pow(2, -24));
            Assert.Equal(expected[2 * k], preciseReal[k], scale * Math.Pow(2, -53));
            Assert.Equal(expected[2 * k + 1], preciseImaginary[k], scale * Math.Pow(2, -53));
        }
    }

    [Theory]
    [InlineData("'hann'")]
    [InlineData("'blackmanharris'")]
    [InlineData("'flattop'")]
    [InlineData("('kaiser', 8.6)")]
    public void WindowsAreThoseOfScipy(string name)
    {
        const int size = 4096;
        double[] expected = Scipy.Evaluate($"scipy.signal.get_window({name}, {size})", [0]);
        AnalysisWindow window = name switch
        {
            "'hann'" => AnalysisWindow.Hann(size),
            "'blackmanharris'" => AnalysisWindow.BlackmanHarris(size),
            "'flattop'" => AnalysisWindow.FlatTop(size),
            _ => AnalysisWindow.Kaiser(size, 8.6),
        };
        for (int n = 0; n < size; n++)
        {
            Assert.Equal(expected[n], window.Values[n], Math.Pow(2, -24));
        }
    }

    [Fact]
    public void LongConvolutionIsThatOfScipy()
    {
        const int partition = 256;
        Random random = new(2);
        float[] taps = [.. Enumerable.Range(0, 16_384).Select(n => (float)((random.NextDouble() * 2 - 1) / 64))];
        float[] signal = [.. Enumerable.Range(0, 30_000).Select(_ => (float)(random.NextDouble() * 2 - 1))];
        double[] expected = Scipy.Evaluate(
            $"scipy.signal.fftconvolve(x[:{taps.Length}], x[{taps.Length}:])",
            [.. taps.Concat(signal).Select(value => (double)value)]);
        ConvolutionFilter filter = new(partition, taps.Length);
        filter.SetTaps(taps);
        float[] right = [.. signal];
        new PartitionedConvolver(filter, filter).Process(signal, right);

        // The output's root mean square is 1/3·√16384/64 = 0.67; −115 dB is where rounding of transforms and sums ends.
        for (int n = partition; n < signal.Length; n++)
        {
            Assert.Equal(expected[n - partition], signal[n], Math.Pow(10, -115 / 20.0));
            Assert.Equal(signal[n], right[n]);
        }
    }
}
