using System.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace LiveStems.Tests.Signals;

/// <summary>What a switch adds to a steady low sine, far above it in frequency.</summary>
internal static class ClickMeter
{
    private const int Window = 4096;
    private const double LowestHz = 2000;

    /// <summary>
    /// Amplitude of the strongest line beyond 2 kHz, in dBFS, from a quarter of a second on, under a four-term
    /// Blackman-Harris window (side lobes −92 dB and lower, falling; F. J. Harris, 1978), a quarter of a window apart.
    /// </summary>
    public static double WorstDbfs(float[] samples, int sampleRate)
    {
        double[] window = [.. Enumerable.Range(0, Window).Select(i => 2 * Math.PI * i / Window)
            .Select(a => 0.35875 - 0.48829 * Math.Cos(a) + 0.14128 * Math.Cos(2 * a) - 0.01168 * Math.Cos(3 * a))];
        double scale = 2 / window.Sum();
        double worst = 0;
        Complex[] block = new Complex[Window];
        for (int start = sampleRate / 4; start + Window <= samples.Length; start += Window / 4)
        {
            for (int i = 0; i < Window; i++)
            {
                block[i] = scale * window[i] * samples[start + i];
            }

            Fourier.Forward(block, FourierOptions.NoScaling);
            for (int k = (int)(LowestHz * Window / sampleRate); k < Window / 2; k++)
            {
                worst = Math.Max(worst, Complex.Abs(block[k]));
            }
        }

        return 20 * Math.Log10(worst);
    }
}
