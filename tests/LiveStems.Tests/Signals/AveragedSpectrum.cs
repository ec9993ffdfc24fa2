using LiveStems.Dsp.Spectral;

namespace LiveStems.Tests.Signals;

/// <summary>The mean power spectrum of a sound through Hann windows that overlap fourfold (P. D. Welch, 1967).</summary>
internal static class AveragedSpectrum
{
    /// <summary>
    /// Power of each bin, unscaled, over the windows whose first and last frame are both in <paramref name="counts"/>.
    /// </summary>
    public static double[] Of(float[] sound, int size, Func<int, bool> counts)
    {
        RealFourierTransform transform = new(size);
        AnalysisWindow window = AnalysisWindow.Hann(size);
        float[] windowed = new float[size];
        float[] real = new float[transform.Bins];
        float[] imaginary = new float[transform.Bins];
        double[] power = new double[transform.Bins];
        int windows = 0;
        for (int start = 0; start + size <= sound.Length; start += size / 4)
        {
            if (!counts(start) || !counts(start + size - 1))
            {
                continue;
            }

            window.Apply(sound.AsSpan(start, size), windowed);
            transform.Forward(windowed, real, imaginary);
            for (int bin = 0; bin < power.Length; bin++)
            {
                power[bin] += (double)real[bin] * real[bin] + (double)imaginary[bin] * imaginary[bin];
            }

            windows++;
        }

        return [.. power.Select(sum => sum / windows)];
    }

    /// <summary>The highest power within a reach of a bin.</summary>
    public static double Highest(double[] power, int bin, int reach) => power[(bin - reach)..(bin + reach + 1)].Max();

    /// <summary>The mean power within a reach of a bin.</summary>
    public static double Mean(double[] power, int bin, int reach) => power[(bin - reach)..(bin + reach + 1)].Average();
}
