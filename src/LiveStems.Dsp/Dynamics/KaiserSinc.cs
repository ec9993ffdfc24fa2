namespace LiveStems.Dsp.Dynamics;

/// <summary>Taps of a sinc under a Kaiser window.</summary>
internal static class KaiserSinc
{
    /// <summary>
    /// Taps that make the point half-way between two samples, from the nearest pair of samples outwards: the value is
    /// Σ taps[j] (x[n − j] + x[n + 1 + j]). They sum to ½, so a constant stays.
    /// </summary>
    public static float[] HalfWayTaps(int halfLength, double beta)
    {
        double[] taps = new double[halfLength];
        double sum = 0;
        for (int j = 0; j < halfLength; j++)
        {
            double time = j + 0.5;
            double edge = time / halfLength;
            taps[j] = Math.Sin(Math.PI * time) / (Math.PI * time) * BesselI0(beta * Math.Sqrt(1 - edge * edge));
            sum += taps[j];
        }

        return Array.ConvertAll(taps, tap => (float)(tap / (2 * sum)));
    }

    /// <summary>Modified Bessel function of the first kind, order 0, by its power series Σ (x/2)^2k / k!².</summary>
    private static double BesselI0(double x)
    {
        double term = 1;
        double sum = 1;
        for (int k = 1; term > sum * 1e-17; k++)
        {
            term *= x / (2 * k) * (x / (2 * k));
            sum += term;
        }

        return sum;
    }
}
