using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The low-pass in front of a detector: Butterworth, 12 dB/oct, both channels side by side, so that cymbals need not
/// open a gate that waits for a drum.
/// </summary>
/// <remarks>
/// The low-pass output of the state-variable filter of <see cref="KeyHighPass"/> (A. Simper, "Linear Trapezoidal
/// Integrated SVF", 2013; from memory): the corner may move while it runs.
/// </remarks>
public sealed class KeyLowPass
{
    private Vector128<double> first;
    private Vector128<double> second;
    private double a1;
    private double a2;
    private double a3;

    /// <summary>Sets the corner (−3.01 dB), Hz, below half the sample rate.</summary>
    public void SetCorner(double cutoffHz, double sampleRate)
    {
        double g = Math.Tan(Math.PI * cutoffHz / sampleRate);
        a1 = 1 / (1 + g * (g + Math.Sqrt(2)));
        a2 = g * a1;
        a3 = g * a2;
    }

    /// <summary>Silence before.</summary>
    public void Reset() => first = second = Vector128<double>.Zero;

    /// <summary>Sets state below 1e-20 to zero.</summary>
    public void FlushTinyState()
    {
        first &= Vector128.GreaterThan(Vector128.Abs(first), Vector128.Create(1e-20));
        second &= Vector128.GreaterThan(Vector128.Abs(second), Vector128.Create(1e-20));
    }

    /// <summary>
    /// Filters a key in place. Both spans have one length; samples that are not finite, or beyond ±1e6, count as silence.
    /// </summary>
    public void Process(Span<float> left, Span<float> right)
    {
        Vector128<double> s1 = first;
        Vector128<double> s2 = second;
        Vector128<double> k1 = Vector128.Create(a1);
        Vector128<double> k2 = Vector128.Create(a2);
        Vector128<double> k3 = Vector128.Create(a3);
        Vector128<double> loudest = Vector128.Create(1e6);
        for (int i = 0; i < left.Length; i++)
        {
            Vector128<double> x = Vector128.Create((double)left[i], right[i]);
            x &= Vector128.LessThanOrEqual(Vector128.Abs(x), loudest);
            Vector128<double> v3 = x - s2;
            Vector128<double> band = Vector128.FusedMultiplyAdd(k1, s1, k2 * v3);
            Vector128<double> low = s2 + Vector128.FusedMultiplyAdd(k2, s1, k3 * v3);
            s1 = band + band - s1;
            s2 = low + low - s2;
            left[i] = (float)low.ToScalar();
            right[i] = (float)low[1];
        }

        first = s1;
        second = s2;
    }
}
