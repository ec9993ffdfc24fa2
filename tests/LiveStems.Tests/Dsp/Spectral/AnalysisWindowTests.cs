using LiveStems.Dsp.Spectral;
using Xunit;

namespace LiveStems.Tests.Dsp.Spectral;

/// <summary>The table of REFERENCES section 9, computed there with scipy.signal.windows for 4096 points.</summary>
public class AnalysisWindowTests
{
    private const int Size = 4096;
    private const int Padding = 32;

    [Theory]
    [InlineData("Hann", 0.50000, 1.50000, 1.4236, -31.5)]
    [InlineData("Blackman-Harris", 0.35875, 2.00435, 0.8256, -92.0)]
    [InlineData("flat top", 0.21558, 3.77025, 0.0098, -93.0)]
    [InlineData("Kaiser 8.6", 0.42080, 1.72137, 1.1092, -63.3)]
    [InlineData("Kaiser 14", 0.33187, 2.16113, 0.7128, -105.9)]
    public void WindowHasTheFiguresOfTheTable(string name, double gain, double noiseBandwidth, double scallopingDb, double sideLobeDb)
    {
        AnalysisWindow window = Window(name);
        Assert.Equal(gain, window.CoherentGain, 6e-6);
        Assert.Equal(noiseBandwidth, window.EquivalentNoiseBandwidth, 6e-6);
        double[] spectrumDb = SpectrumDb(window);
        Assert.Equal(-scallopingDb, spectrumDb[Padding / 2], 6e-5);

        // Down the main lobe to its foot; the highest of what follows.
        int foot = Array.FindIndex(spectrumDb, level => level < -20);
        while (spectrumDb[foot] < spectrumDb[foot - 1])
        {
            foot++;
        }

        Assert.Equal(sideLobeDb, spectrumDb[foot..].Max(), 0.06);
    }

    [Fact]
    public void WindowsArePeriodicAndSymmetric()
    {
        foreach (string name in (string[])["Hann", "Blackman-Harris", "flat top", "Kaiser 14"])
        {
            ReadOnlySpan<float> values = Window(name).Values;
            for (int n = 1; n < Size; n++)
            {
                Assert.Equal(values[n], values[Size - n], 1e-7f);
            }
        }
    }

    [Fact]
    public void HannWindowsAddUpToOneAtHalfOverlap()
    {
        ReadOnlySpan<float> values = AnalysisWindow.Hann(Size).Values;
        for (int n = 0; n < Size / 2; n++)
        {
            Assert.Equal(1, values[n] + values[n + Size / 2], 1e-7f);
        }
    }

    [Fact]
    public void ApplyRefusesOtherLengths() =>
        Assert.Throws<ArgumentException>(() => AnalysisWindow.Hann(64).Apply(new float[64], new float[63]));

    private static AnalysisWindow Window(string name) => name switch
    {
        "Hann" => AnalysisWindow.Hann(Size),
        "Blackman-Harris" => AnalysisWindow.BlackmanHarris(Size),
        "flat top" => AnalysisWindow.FlatTop(Size),
        "Kaiser 8.6" => AnalysisWindow.Kaiser(Size, 8.6),
        _ => AnalysisWindow.Kaiser(Size, 14),
    };

    private static double[] SpectrumDb(AnalysisWindow window)
    {
        DoubleFourierTransform transform = new(Size * Padding);
        double[] signal = new double[transform.Size];
        for (int n = 0; n < Size; n++)
        {
            signal[n] = window.Values[n];
        }

        double[] real = new double[transform.Bins];
        double[] imaginary = new double[transform.Bins];
        transform.Forward(signal, real, imaginary);
        return [.. real.Zip(imaginary, (re, im) => 20 * Math.Log10(Math.Sqrt(re * re + im * im) / real[0] + 1e-15))];
    }
}
