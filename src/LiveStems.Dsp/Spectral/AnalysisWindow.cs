using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Spectral;

/// <summary>
/// A periodic window for spectra, with what is needed to read levels and densities through it.
/// </summary>
/// <remarks>
/// With X = the unscaled transform of the windowed signal, N its length: the amplitude of a sine is
/// 2·|X|/(N·<see cref="CoherentGain"/>); the power in a band is the sum over its bins of
/// 2·|X|²/(N²·<see cref="PowerGain"/>). G. Heinzel, A. Rüdiger and R. Schilling, "Spectrum and spectral density estimation
/// by the discrete Fourier transform", 2002; F. J. Harris, Proceedings of the IEEE 66 (1978).
/// </remarks>
public sealed class AnalysisWindow
{
    private readonly float[] values;

    private AnalysisWindow(int size, Func<double, double> shape)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(size, 2);
        values = Unmoved.Array<float>(size);
        double sum = 0;
        double power = 0;
        for (int n = 0; n < size; n++)
        {
            double value = shape((double)n / size);
            values[n] = (float)value;
            sum += value;
            power += value * value;
        }

        CoherentGain = sum / size;
        PowerGain = power / size;
    }

    /// <summary>The window's values; the middle, at half the size, is 1 or close to it.</summary>
    public ReadOnlySpan<float> Values => values;

    /// <summary>The mean of the values: what a sine's amplitude is multiplied by.</summary>
    public double CoherentGain { get; }

    /// <summary>The mean of the squares of the values: what a noise's power is multiplied by.</summary>
    public double PowerGain { get; }

    /// <summary>Equivalent noise bandwidth in bins.</summary>
    public double EquivalentNoiseBandwidth => PowerGain / (CoherentGain * CoherentGain);

    /// <summary>Hann: the all-round window; half-overlapped copies of it add up to 1.</summary>
    public static AnalysisWindow Hann(int size) => Cosines(size, 0.5, 0.5);

    /// <summary>Blackman-Harris with four terms: side lobes 92 dB down, for faint lines beside strong ones.</summary>
    public static AnalysisWindow BlackmanHarris(int size) => Cosines(size, 0.35875, 0.48829, 0.14128, 0.01168);

    /// <summary>Flat top with five terms: levels true to 0.01 dB between bins, for calibrated readings.</summary>
    public static AnalysisWindow FlatTop(int size) => Cosines(size, 0.21557895, 0.41663158, 0.277263158, 0.083578947, 0.006947368);

    /// <summary>Kaiser with shape β from 0: side lobes traded against width; see <see cref="KaiserWindow"/>.</summary>
    public static AnalysisWindow Kaiser(int size, double beta) => new(size, at => KaiserWindow.Value(2 * at - 1, beta));

    /// <summary>Multiplies a signal with the window; all three have the window's length.</summary>
    /// <exception cref="ArgumentException">The lengths differ.</exception>
    public void Apply(ReadOnlySpan<float> signal, Span<float> windowed)
    {
        if (signal.Length != values.Length || windowed.Length != values.Length)
        {
            throw new ArgumentException($"signal and result must have the window's length, {values.Length}");
        }

        for (int n = 0; n < values.Length; n++)
        {
            windowed[n] = signal[n] * values[n];
        }
    }

    private static AnalysisWindow Cosines(int size, params double[] terms) => new(size, at =>
    {
        double value = 0;
        for (int k = 0; k < terms.Length; k++)
        {
            value += (k % 2 == 0 ? terms[k] : -terms[k]) * Math.Cos(2 * Math.PI * k * at);
        }

        return value;
    });
}
