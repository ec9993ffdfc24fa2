using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The high-pass in front of a detector: Butterworth, 12 dB/oct, both channels side by side, so that a bass drum need
/// not duck the cymbals above it.
/// </summary>
/// <remarks>
/// State-variable filter with trapezoidal integrators (A. Simper, "Linear Trapezoidal Integrated SVF", 2013; V. Zavalishin,
/// "The Art of VA Filter Design", ch. 4; both from memory): the corner may move while it runs. Double state, since 20 Hz
/// at 384 kHz leaves few bits in float.
/// </remarks>
public sealed class KeyHighPass
{
    private Vector128<double> first;
    private Vector128<double> second;
    private double a1;
    private double a2;
    private double a3;
    private double damping;

    /// <summary>Sets the corner (−3.01 dB), Hz, below half the sample rate.</summary>
    public void SetCorner(double cutoffHz, double sampleRate)
    {
        double g = Math.Tan(Math.PI * cutoffHz / sampleRate);
        damping = Math.Sqrt(2);
        a1 = 1 / (1 + g * (g + damping));
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
    /// Filters a key into scratch memory. All spans have one length; samples that are not finite, or beyond ±1e6, count
    /// as silence.
    /// </summary>
    public void Process(ReadOnlySpan<float> keyLeft, ReadOnlySpan<float> keyRight, Span<float> left, Span<float> right)
    {
        Vector128<double> s1 = first;
        Vector128<double> s2 = second;
        Vector128<double> k1 = Vector128.Create(a1);
        Vector128<double> k2 = Vector128.Create(a2);
        Vector128<double> k3 = Vector128.Create(a3);
        Vector128<double> k = Vector128.Create(damping);
        Vector128<double> loudest = Vector128.Create(1e6);
        for (int i = 0; i < keyLeft.Length; i++)
        {
            Vector128<double> x = Vector128.Create((double)keyLeft[i], keyRight[i]);
            x &= Vector128.LessThanOrEqual(Vector128.Abs(x), loudest);
            Vector128<double> v3 = x - s2;
            Vector128<double> band = Vector128.FusedMultiplyAdd(k1, s1, k2 * v3);
            Vector128<double> low = s2 + Vector128.FusedMultiplyAdd(k2, s1, k3 * v3);
            s1 = band + band - s1;
            s2 = low + low - s2;
            Vector128<double> high = x - low - k * band;
            left[i] = (float)high.ToScalar();
            right[i] = (float)high[1];
        }

        first = s1;
        second = s2;
    }
}
