using System.Numerics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Analysis.Intake;

/// <summary>
/// Linear prediction of a stretch of sound: the autocorrelation method with Levinson's recursion (J. Makhoul, Proceedings
/// of the IEEE 63, 1975, sections II and III).
/// </summary>
internal sealed class LinearPrediction(int order)
{
    // White noise 90 dB down keeps the recursion sound for pure tones.
    private const double Regularisation = 1e-9;

    private readonly double[] correlation = new double[order + 1];
    private readonly double[] coefficients = new double[order + 1];
    private readonly double[] previous = new double[order + 1];
    private readonly float[] taps = new float[order + 1];

    /// <summary>Samples that a prediction looks back.</summary>
    public int Order => order;

    /// <summary>Finds the predictor of a windowed stretch; false for silence.</summary>
    public bool Fit(ReadOnlySpan<float> windowed)
    {
        for (int lag = 0; lag <= order; lag++)
        {
            correlation[lag] = Products.Sum(windowed[lag..], windowed[..^lag]);
        }

        if (correlation[0] <= 0)
        {
            return false;
        }

        double error = correlation[0] *= 1 + Regularisation;
        Array.Clear(coefficients);
        coefficients[0] = 1;
        for (int i = 1; i <= order; i++)
        {
            double sum = 0;
            for (int k = 0; k < i; k++)
            {
                sum += coefficients[k] * correlation[i - k];
            }

            double reflection = -sum / error;
            coefficients.CopyTo(previous, 0);
            for (int k = 1; k <= i; k++)
            {
                coefficients[k] = previous[k] + reflection * previous[i - k];
            }

            error *= 1 - reflection * reflection;
        }

        for (int k = 0; k <= order; k++)
        {
            taps[k] = (float)coefficients[k];
        }

        return true;
    }

    /// <summary>
    /// What the predictor cannot foretell: residual[n] belongs to sound[first + n]; <paramref name="first"/> is at least
    /// <see cref="Order"/>.
    /// </summary>
    public void Residual(ReadOnlySpan<float> sound, int first, Span<float> residual)
    {
        int n = 0;
        for (; n <= residual.Length - Vector<float>.Count; n += Vector<float>.Count)
        {
            Vector<float> sum = Vector<float>.Zero;
            for (int k = 0; k <= order; k++)
            {
                sum += new Vector<float>(sound[(first + n - k)..]) * taps[k];
            }

            sum.CopyTo(residual[n..]);
        }

        for (; n < residual.Length; n++)
        {
            float sum = 0;
            for (int k = 0; k <= order; k++)
            {
                sum += sound[first + n - k] * taps[k];
            }

            residual[n] = sum;
        }
    }
}
