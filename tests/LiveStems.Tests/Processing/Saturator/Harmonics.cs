using System.Numerics;

namespace LiveStems.Tests.Processing.Saturator;

/// <summary>Amplitudes of a sound whose period is a whole number of frames.</summary>
internal static class Harmonics
{
    /// <summary>Amplitude at a multiple of 1/period of the sample rate, from the last period.</summary>
    public static double Amplitude(float[] sound, int period, int multiple)
    {
        Complex sum = 0;
        for (int n = 0; n < period; n++)
        {
            sum += sound[sound.Length - period + n] * Complex.FromPolarCoordinates(1, -2 * Math.PI * ((long)multiple * n % period) / period);
        }

        return sum.Magnitude * (multiple == 0 ? 1 : 2) / period;
    }

    /// <summary>Amplitude of a harmonic of a curve that a cosine goes through, by the mean over 4096 phases.</summary>
    public static double OfCurve(Func<double, double> curve, double amplitude, int harmonic)
    {
        const int Points = 4096;
        double sum = 0;
        for (int i = 0; i < Points; i++)
        {
            double phase = 2 * Math.PI * (i + 0.5) / Points;
            sum += curve(amplitude * Math.Cos(phase)) * Math.Cos(harmonic * phase);
        }

        return Math.Abs(sum) * 2 / Points;
    }

    /// <summary>Bessel function of the first kind, J_n(x), by its power series (Abramowitz and Stegun 9.1.10).</summary>
    public static double BesselJ(int order, double x)
    {
        double term = 1;
        for (int k = 1; k <= order; k++)
        {
            term *= x / 2 / k;
        }

        double sum = 0;
        for (int k = 0; k < 60; k++)
        {
            sum += term;
            term *= -x * x / 4 / ((k + 1) * (double)(k + 1 + order));
        }

        return sum;
    }
}
