using System.Numerics;

namespace LiveStems.Dsp.Loudness;

/// <summary>
/// The first stage of the K-weighting: BS.1770-5 Table 1 at 48 kHz, and at other rates the filter of the same order whose
/// poles are those of the table moved in time and whose magnitude equals the table's at three frequencies.
/// </summary>
/// <remarks>
/// The matching is that of M. Vicanek, "Matched second order digital filters", 2016 (from memory): the squared magnitude
/// of a second-order polynomial is B0 φ0 + B1 φ1 + B2 φ2 with φ1 = sin²(ω/2), φ0 = 1 − φ1, φ2 = 4 φ0 φ1, and the
/// coefficients follow from B0, B1, B2 in closed form. At 48 kHz it gives the table back, to rounding.
/// </remarks>
internal readonly record struct MatchedShelf(double B0, double B1, double B2, double A1, double A2)
{
    private const double TabulatedSampleRate = 48_000;

    // Where the response rises steepest, and near the upper edge of what matters; the third is 0 Hz.
    private const double MiddleFrequency = 1_500;
    private const double HighestFrequency = 20_000;
    private const double HighestShareOfSampleRate = 0.4;

    private static readonly MatchedShelf Tabulated = new(
        1.53512485958697, -2.69169618940638, 1.19839281085285, -1.69065929318241, 0.73248077421585);

    /// <summary>The shelf at a sample rate.</summary>
    public static MatchedShelf For(double sampleRate)
    {
        if (sampleRate == TabulatedSampleRate)
        {
            return Tabulated;
        }

        double time = TabulatedSampleRate / sampleRate;
        double radius = Math.Sqrt(Tabulated.A2);
        double angle = Math.Acos(-Tabulated.A1 / (2 * radius));
        double a1 = -2 * Math.Pow(radius, time) * Math.Cos(angle * time);
        double a2 = Math.Pow(radius, 2 * time);
        MatchedShelf poles = new(1, 0, 0, a1, a2);

        double high = Math.Min(HighestFrequency, HighestShareOfSampleRate * sampleRate);
        double atZero = SquaredNumerator(0);
        (double middle1, double middle2, double middleLeft) = Equation(MiddleFrequency);
        (double high1, double high2, double highLeft) = Equation(high);
        double determinant = middle1 * high2 - high1 * middle2;
        double atNyquist = (middleLeft * high2 - highLeft * middle2) / determinant;
        double product = (middle1 * highLeft - high1 * middleLeft) / determinant;

        double rootAtZero = Math.Sqrt(atZero);
        double rootAtNyquist = Math.Sqrt(atNyquist);
        double outer = (rootAtZero + rootAtNyquist) / 2;
        double b0 = (outer + Math.Sqrt(outer * outer + product)) / 2;
        return new MatchedShelf(b0, (rootAtZero - rootAtNyquist) / 2, -product / (4 * b0), a1, a2);

        double SquaredNumerator(double frequency) =>
            Power(Tabulated.Response(Delay(frequency, TabulatedSampleRate))) / Power(poles.Response(Delay(frequency, sampleRate)));

        (double Phi1, double Phi2, double Left) Equation(double frequency)
        {
            double sine = Math.Sin(Math.PI * frequency / sampleRate);
            double phi1 = sine * sine;
            double phi0 = 1 - phi1;
            return (phi1, 4 * phi0 * phi1, SquaredNumerator(frequency) - atZero * phi0);
        }
    }

    /// <summary>The response where a delay of one sample is <paramref name="delay"/> (z⁻¹).</summary>
    public Complex Response(Complex delay) => (B0 + delay * (B1 + delay * B2)) / (1 + delay * (A1 + delay * A2));

    private static Complex Delay(double frequency, double sampleRate) =>
        Complex.FromPolarCoordinates(1, -2 * Math.PI * frequency / sampleRate);

    private static double Power(Complex response) => response.Real * response.Real + response.Imaginary * response.Imaginary;
}
