using System.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace LiveStems.Tests.Signals;

/// <summary>
/// Measures what a switch adds to a steady sine of 250 Hz: the strongest line from 2 kHz up, three octaves above the sine,
/// at any moment, as the amplitude of a sine in dBFS.
/// </summary>
/// <remarks>
/// The window is the four-term Blackman-Harris (side lobes −92 dB and lower, falling; F. J. Harris, "On the use of windows
/// for harmonic analysis", 1978) over 85 ms, a quarter of it apart. Three octaves away a 10 ms ramp with level ends stays
/// 10 dB and more below −90 dBFS, while a jump by a twentieth of a sine of 0.4 stands above it: so the limit tells a fade from a
/// click. <c>ClickMeterTests</c> holds it to that.
/// </remarks>
internal static class ClickMeter
{
    public const double ToneHz = 250;
    public const double LimitDbfs = -90;

    private const int Window = 4096;
    private const double LowestHz = 2000;

    private static readonly double[] Shape = [.. Enumerable.Range(0, Window).Select(i => 2 * Math.PI * i / Window)
        .Select(a => 0.35875 - 0.48829 * Math.Cos(a) + 0.14128 * Math.Cos(2 * a) - 0.01168 * Math.Cos(3 * a))];

    /// <summary>The strongest line from a quarter of a second on, when what was switched on at the start has settled.</summary>
    public static double WorstDbfs(float[] samples, int sampleRate) => Worst(samples.AsSpan(sampleRate / 4), sampleRate);

    /// <summary>The strongest line of samples at 48 kHz.</summary>
    public static double WorstDbfs(ReadOnlySpan<float> samples) => Worst(samples, 48_000);

    private static double Worst(ReadOnlySpan<float> samples, int sampleRate)
    {
        double scale = 2 / Shape.Sum();
        double worst = 0;
        Complex[] block = new Complex[Window];
        for (int start = 0; start + Window <= samples.Length; start += Window / 4)
        {
            for (int i = 0; i < Window; i++)
            {
                block[i] = scale * Shape[i] * samples[start + i];
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
