using System.Numerics;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Analysis.Intake;

/// <summary>
/// Finds the delay between two signals from the phase of their cross-spectrum or response: the generalised cross-correlation
/// with the maximum-likelihood weight, each phase by the inverse of its variance, γ²/(1 − γ²) (E. J. Hannan and P. J.
/// Thomson, Biometrika 60, 1973; C. H. Knapp and G. C. Carter, IEEE Trans. ASSP 24, 1976, table I), then a straight line
/// through the phases for the part of a sample. By the coherence γ² alone, thousands of high bins that hold next to nothing
/// would outvote the few that know.
/// </summary>
internal sealed class DelaySearch(int size)
{
    private const int Refinements = 4;

    // Weights below this share of all bins are chance.
    private const double LeastWeight = 0.0005;

    // γ²/(1 − γ²) above which a bin is no surer: filters on the way move phases by more than a hundredth of a radian.
    private const double Surest = 1e4;

    private readonly DoubleFourierTransform transform = new(size);
    private readonly double[] real = new double[size / 2 + 1];
    private readonly double[] imaginary = new double[size / 2 + 1];
    private readonly double[] correlation = new double[size];
    private readonly double[] sum = new double[size];

    /// <summary>
    /// The delay by which both sides together agree best.
    /// </summary>
    /// <param name="responses">From the first signal to the second, for each side.</param>
    /// <param name="coherences">Coherence of each bin, 0 to 1, for each side.</param>
    /// <param name="shift">Frames to look around, 0 for the plain search.</param>
    public DelayEstimate Find(Complex[][] responses, double[][] coherences, int shift = 0)
    {
        Array.Clear(sum);
        double[][] weights = [.. coherences.Select(side => side.Select(Weight).ToArray())];
        double[] totals = [.. coherences.Select(each => each.Sum())];
        double[][] sides = new double[responses.Length][];
        for (int side = 0; side < responses.Length; side++)
        {
            Correlate(responses[side], weights[side], shift);
            sides[side] = [.. correlation];
            for (int n = 0; n < size; n++)
            {
                // Whichever way up a side is.
                sum[n] += Math.Abs(correlation[n]);
            }
        }

        int best = 0;
        for (int n = 1; n < size; n++)
        {
            best = sum[n] > sum[best] ? n : best;
        }

        double total = totals.Sum();
        double fraction = total > 0 ? Refine(responses, weights, best, shift) : 0;
        int frames = best < size / 2 ? best : best - size;
        double certain = weights.Sum(each => each.Sum());
        double agreement = certain > 0 ? sum[best] / (certain / (size / 2.0)) : 0;
        bool isKnown = total >= LeastWeight * size / 2 * responses.Length && agreement >= 0.25;
        return new DelayEstimate(
            shift + frames + fraction,
            Math.Min(agreement, 1),
            isKnown,
            [.. sides.Select((side, index) => totals[index] >= LeastWeight * size / 2 ? Math.Sign(side[best]) : 0)]);
    }

    private static double Weight(double coherence) => coherence / (coherence + Surest * (1 - coherence));

    private void Correlate(Complex[] response, double[] weight, int shift)
    {
        for (int bin = 0; bin < real.Length; bin++)
        {
            Complex value = Unit(response[bin]) * Turn(bin, shift) * weight[bin];
            real[bin] = value.Real;
            imaginary[bin] = value.Imaginary;
        }

        // Scaled by 1/N over both halves of the spectrum: a pure delay reads the mean weight at its place.
        transform.Inverse(real, imaginary, correlation);
    }

    // Phase that is left after the whole samples: its slope over frequency is the rest, by least squares.
    private double Refine(Complex[][] responses, double[][] weights, int best, int shift)
    {
        double fraction = 0;
        for (int pass = 0; pass < Refinements; pass++)
        {
            double slope = 0, square = 0;
            for (int side = 0; side < responses.Length; side++)
            {
                Complex mean = Complex.Zero;
                for (int bin = 0; bin < real.Length; bin++)
                {
                    mean += Unit(responses[side][bin]) * Turn(bin, best + shift + fraction) * weights[side][bin];
                }

                bool isInverted = mean.Real < 0;
                for (int bin = 1; bin < real.Length - 1; bin++)
                {
                    double weight = weights[side][bin];
                    if (weight > 0)
                    {
                        Complex left = Unit(responses[side][bin]) * Turn(bin, best + shift + fraction);
                        double phase = (isInverted ? -left : left).Phase;
                        double omega = 2 * Math.PI * bin / size;
                        slope -= weight * omega * phase;
                        square += weight * omega * omega;
                    }
                }
            }

            fraction += square > 0 ? Math.Clamp(slope / square, -0.5, 0.5) : 0;
        }

        return Math.Abs(fraction) <= 1 ? fraction : 0;
    }

    private Complex Turn(int bin, double frames) => Complex.FromPolarCoordinates(1, 2 * Math.PI * (bin * frames / size % 1));

    private static Complex Unit(Complex value)
    {
        double magnitude = Complex.Abs(value);
        return magnitude > 0 ? value / magnitude : Complex.Zero;
    }
}
