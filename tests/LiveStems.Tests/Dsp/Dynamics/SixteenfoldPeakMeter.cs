using System.Numerics;

namespace LiveStems.Tests.Dsp.Dynamics;

/// <summary>
/// An independent true-peak meter: every sixteenth of a sample by one long sinc in double (64 samples a side, Kaiser
/// β 10), with none of the limiter's code in it.
/// </summary>
internal static class SixteenfoldPeakMeter
{
    private const int Ratio = 16;
    private const int HalfLength = 64;
    private const double Beta = 10;

    private static readonly double[][] Phases = Enumerable.Range(0, Ratio).Select(Phase).ToArray();

    /// <summary>Highest magnitude of the reconstructed waveform.</summary>
    public static double Peak(ReadOnlySpan<float> samples)
    {
        double[] padded = new double[samples.Length + 2 * HalfLength];
        for (int i = 0; i < samples.Length; i++)
        {
            padded[HalfLength + i] = samples[i];
        }

        double peak = 0;
        for (int i = 0; i + 2 * HalfLength < padded.Length; i++)
        {
            ReadOnlySpan<double> window = padded.AsSpan(i, 2 * HalfLength);
            foreach (double[] phase in Phases)
            {
                peak = Math.Max(peak, Math.Abs(Dot(window, phase)));
            }
        }

        return peak;
    }

    /// <summary>The same in dBTP.</summary>
    public static double PeakDbtp(ReadOnlySpan<float> samples) => 20 * Math.Log10(Peak(samples));

    private static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        Vector<double> sum = Vector<double>.Zero;
        for (int i = 0; i < a.Length; i += Vector<double>.Count)
        {
            sum += new Vector<double>(a[i..]) * new Vector<double>(b[i..]);
        }

        return Vector.Sum(sum);
    }

    // Weights of the samples from HalfLength − 1 before to HalfLength after, for the point phase/16 after a sample.
    private static double[] Phase(int phase)
    {
        double[] taps = new double[2 * HalfLength];
        for (int k = 0; k < taps.Length; k++)
        {
            double time = k - (HalfLength - 1) - phase / (double)Ratio;
            double edge = time / HalfLength;
            double sinc = time == 0 ? 1 : Math.Sin(Math.PI * time) / (Math.PI * time);
            taps[k] = Math.Abs(edge) >= 1 ? 0 : sinc * BesselI0(Beta * Math.Sqrt(1 - edge * edge)) / BesselI0(Beta);
        }

        return taps;
    }

    private static double BesselI0(double x)
    {
        double sum = 1;
        double term = 1;
        for (int k = 1; k < 200; k++)
        {
            term *= x / (2 * k) * (x / (2 * k));
            sum += term;
        }

        return sum;
    }
}
