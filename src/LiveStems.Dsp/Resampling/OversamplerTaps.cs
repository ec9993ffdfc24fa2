using LiveStems.Dsp.Spectral;

namespace LiveStems.Dsp.Resampling;

/// <summary>Taps of the filters between a rate and its double.</summary>
internal static class OversamplerTaps
{
    private const int GridPointsPerTap = 12;
    private const double Regularisation = 1e-13;

    /// <summary>
    /// The taps of a half-band filter of length 4K − 1 that are neither its centre (½) nor zero, times two: they make the
    /// point half-way between two samples from K samples on either side (sinc under a Kaiser window). Symmetric, sum 1.
    /// </summary>
    public static float[] HalfWay(int halfLength, double beta) => Array.ConvertAll(HalfWayExact(halfLength, beta), tap => (float)tap);

    /// <summary>The taps of <see cref="HalfWay"/> in double precision.</summary>
    public static double[] HalfWayExact(int halfLength, double beta)
    {
        double[] taps = new double[2 * halfLength];
        for (int i = 0; i < taps.Length; i++)
        {
            double time = i - halfLength + 0.5;
            taps[i] = Math.Sin(Math.PI * time) / (Math.PI * time) * KaiserWindow.Value(time / halfLength, beta);
        }

        double sum = taps.Sum();
        return Array.ConvertAll(taps, tap => tap / sum);
    }

    /// <summary>
    /// A low-pass of even length 2M, whose delay is M − ½ samples and whose pass-band rises as 1 / cos(ω/2): it takes back
    /// the half sample and the droop of a mean of two neighbours. Symmetric, sum 1.
    /// </summary>
    /// <remarks>
    /// Least squares: g of the response 2 Σ g[k] cos(ω (k + ½)) that comes nearest to 1 / cos(ω/2) on a grid over the
    /// pass-band and to 0 on one over the stop-band, by the normal equations.
    /// </remarks>
    /// <param name="halfLength">M.</param>
    /// <param name="passShare">End of the pass-band as a share of half the higher rate.</param>
    /// <param name="stopShare">Start of the stop-band, in the same measure.</param>
    public static float[] AfterMeanOfTwo(int halfLength, double passShare, double stopShare)
    {
        double[,] matrix = new double[halfLength, halfLength];
        double[] right = new double[halfLength];
        int points = GridPointsPerTap * halfLength;
        for (int i = 0; i < points; i++)
        {
            double place = (i + 0.5) / points;
            double pass = Math.PI * passShare * place;
            AddPoint(matrix, right, pass, 1 / Math.Cos(pass / 2));
            AddPoint(matrix, right, Math.PI * (stopShare + (1 - stopShare) * place), 0);
        }

        // A wide transition leaves directions that no point of the grid sees.
        double trace = 0;
        for (int k = 0; k < halfLength; k++)
        {
            trace += matrix[k, k];
        }

        for (int k = 0; k < halfLength; k++)
        {
            matrix[k, k] += Regularisation * trace / halfLength;
        }

        SolveSymmetric(matrix, right);
        double sum = 2 * right.Sum();
        float[] taps = new float[2 * halfLength];
        for (int k = 0; k < halfLength; k++)
        {
            taps[halfLength + k] = taps[halfLength - 1 - k] = (float)(right[k] / sum);
        }

        return taps;
    }

    private static void AddPoint(double[,] matrix, double[] right, double omega, double wanted)
    {
        double[] row = [.. Enumerable.Range(0, right.Length).Select(k => 2 * Math.Cos(omega * (k + 0.5)))];
        for (int k = 0; k < row.Length; k++)
        {
            right[k] += row[k] * wanted;
            for (int j = 0; j <= k; j++)
            {
                matrix[k, j] += row[k] * row[j];
            }
        }
    }

    // Cholesky's factors in the lower half, then forward and back.
    private static void SolveSymmetric(double[,] matrix, double[] right)
    {
        int size = right.Length;
        for (int k = 0; k < size; k++)
        {
            for (int j = 0; j <= k; j++)
            {
                double left = matrix[k, j];
                for (int i = 0; i < j; i++)
                {
                    left -= matrix[k, i] * matrix[j, i];
                }

                matrix[k, j] = j == k ? Math.Sqrt(left) : left / matrix[j, j];
            }
        }

        for (int k = 0; k < size; k++)
        {
            for (int i = 0; i < k; i++)
            {
                right[k] -= matrix[k, i] * right[i];
            }

            right[k] /= matrix[k, k];
        }

        for (int k = size - 1; k >= 0; k--)
        {
            for (int i = k + 1; i < size; i++)
            {
                right[k] -= matrix[i, k] * right[i];
            }

            right[k] /= matrix[k, k];
        }
    }
}
