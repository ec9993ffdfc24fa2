namespace LiveStems.Dsp.Loudness;

/// <summary>
/// The finite response that comes nearest, in the least-squares sense over 0 to a band edge, to a delay by a fraction of
/// a sample: "general least squares" in T. I. Laakso, V. Välimäki, M. Karjalainen, U. K. Laine, "Splitting the unit
/// delay", IEEE Signal Processing Magazine 13(1), 1996 (from memory; the normal equations are derived below).
/// </summary>
internal static class FractionalDelay
{
    /// <summary>
    /// Taps h with Σ h[k] x[n + k] ≈ x(n + taps/2 − 1 + fraction).
    /// </summary>
    /// <param name="taps">Length, even.</param>
    /// <param name="fraction">0 to 1 sample.</param>
    /// <param name="bandEdge">Upper edge as a share of the sample rate, below 0.5.</param>
    public static double[] Design(int taps, double fraction, double bandEdge)
    {
        // Setting the derivative of ∫ |Σ h[k] e^(iωk) − e^(iωτ)|² dω to zero gives, with s(t) = sin(ω_e t)/(π t):
        // Σ_j s(k − j) h[j] = s(k − τ) for every k. The matrix is symmetric, positive and Toeplitz.
        double target = taps / 2.0 - 1 + fraction;
        double[] matrix = new double[taps];
        double[] wanted = new double[taps];
        for (int k = 0; k < taps; k++)
        {
            matrix[k] = BandLimitedImpulse(k, bandEdge);
            wanted[k] = BandLimitedImpulse(k - target, bandEdge);
        }

        return SolveToeplitz(matrix, wanted);
    }

    private static double BandLimitedImpulse(double t, double bandEdge) =>
        t == 0 ? 2 * bandEdge : Math.Sin(2 * Math.PI * bandEdge * t) / (Math.PI * t);

    // Levinson's recursion for a symmetric Toeplitz matrix with first row r.
    private static double[] SolveToeplitz(double[] r, double[] wanted)
    {
        int size = r.Length;
        double[] solution = new double[size];
        double[] predictor = new double[size];
        predictor[0] = 1;
        double error = r[0];
        solution[0] = wanted[0] / r[0];
        for (int order = 1; order < size; order++)
        {
            double reflection = -Correlation(r, predictor, order) / error;
            for (int i = 0, j = order; i <= j; i++, j--)
            {
                (predictor[i], predictor[j]) =
                    (predictor[i] + reflection * predictor[j], predictor[j] + reflection * predictor[i]);
            }

            error *= 1 - reflection * reflection;
            double correction = (wanted[order] - Correlation(r, solution, order)) / error;
            for (int i = 0; i <= order; i++)
            {
                solution[i] += correction * predictor[order - i];
            }
        }

        return solution;
    }

    private static double Correlation(double[] r, double[] vector, int order)
    {
        double sum = 0;
        for (int i = 0; i < order; i++)
        {
            sum += r[order - i] * vector[i];
        }

        return sum;
    }
}
