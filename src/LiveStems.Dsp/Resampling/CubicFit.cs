namespace LiveStems.Dsp.Resampling;

/// <summary>The cubic through the four Chebyshev nodes of a step.</summary>
/// <remarks>
/// The error is at most |h⁗|/(24·128)·width⁴ (de Boor and Conte, Elementary Numerical Analysis, section 6.1); the fourth
/// derivative of a sinc of bandwidth B, as a share of the rate, is at most (πB)⁴/5.
/// </remarks>
internal static class CubicFit
{
    public const int Terms = 4;

    /// <summary>Newton's divided differences, expanded to powers of u from 0 at the step's start to 1 at its end.</summary>
    public static void Fit(Func<double, double> value, double start, double width, Span<double> cubic)
    {
        Span<double> nodes = stackalloc double[Terms];
        Span<double> differences = stackalloc double[Terms];
        for (int i = 0; i < Terms; i++)
        {
            nodes[i] = 0.5 - 0.5 * Math.Cos(Math.PI * (2 * i + 1) / (2 * Terms));
            differences[i] = value(start + nodes[i] * width);
        }

        for (int order = 1; order < Terms; order++)
        {
            for (int i = Terms - 1; i >= order; i--)
            {
                differences[i] = (differences[i] - differences[i - 1]) / (nodes[i] - nodes[i - order]);
            }
        }

        cubic.Clear();
        for (int i = Terms - 1; i >= 0; i--)
        {
            for (int power = Terms - 1; power > 0; power--)
            {
                cubic[power] = cubic[power - 1] - nodes[i] * cubic[power];
            }

            cubic[0] = differences[i] - nodes[i] * cubic[0];
        }
    }
}
