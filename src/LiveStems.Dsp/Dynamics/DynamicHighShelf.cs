using System.Runtime.Intrinsics;
using LiveStems.Dsp.Filters;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// A high shelf whose gain g is another one at every frame: H(s) = (g s² + √(2g) s + 1) / (s² + √2 s + 1), minimum phase, for
/// all g above 0.
/// </summary>
/// <remarks>
/// One state-variable filter (trapezoidal integrators; V. Zavalishin, "The Art of VA Filter Design", ch. 4, from memory) whose
/// poles do not depend on the gain: y = x − (1 − g) · high − (1 − √g) · √2 · band. At g = 1 the output is the input bit for bit, whatever
/// the state. The squared magnitude, (1 + g² w⁴) / (1 + w⁴) at w = frequency over corner, goes from 1 to g² without a bump (derived).
/// </remarks>
public sealed class DynamicHighShelf
{
    private const double LoudestSample = 1e6;

    private Vector128<double> bandState;
    private Vector128<double> lowState;
    private double a1;
    private double a2;
    private double a3;

    /// <summary>Sets the corner, Hz, below half the sample rate; the state stays.</summary>
    public void SetCorner(double frequencyHz, double sampleRate)
    {
        double g = Math.Tan(Math.PI * frequencyHz / sampleRate);
        a1 = 1 / (1 + g * (g + Math.Sqrt(2)));
        a2 = g * a1;
        a3 = g * a2;
    }

    /// <summary>The shelf's gain at a frequency in dB while it stands still.</summary>
    /// <param name="frequencyHz">The frequency, below half the sample rate.</param>
    /// <param name="cornerHz">The corner.</param>
    /// <param name="sampleRate">Frames a second.</param>
    /// <param name="topPower">The gain far above the corner, as a ratio of powers.</param>
    public static double GainDb(double frequencyHz, double cornerHz, double sampleRate, double topPower)
    {
        double w = Math.Tan(Math.PI * frequencyHz / sampleRate) / Math.Tan(Math.PI * cornerHz / sampleRate);
        double fourth = w * w * w * w;
        return Decibels.FromPower((1 + topPower * fourth) / (1 + fourth));
    }

    /// <summary>Silence before.</summary>
    public void Reset() => bandState = lowState = Vector128<double>.Zero;

    /// <summary>Sets state below 1e-20 to zero.</summary>
    public void FlushTinyState()
    {
        Vector128<double> tiny = Vector128.Create(1e-20);
        bandState &= Vector128.GreaterThan(Vector128.Abs(bandState), tiny);
        lowState &= Vector128.GreaterThan(Vector128.Abs(lowState), tiny);
    }

    /// <summary>
    /// Filters both channels in place with a gain for each frame. Samples that are not finite, or beyond ±1e6, become silence.
    /// </summary>
    public void Process(Span<float> left, Span<float> right, ReadOnlySpan<float> gains)
    {
        Vector128<double> s1 = bandState;
        Vector128<double> s2 = lowState;
        Vector128<double> k1 = Vector128.Create(a1);
        Vector128<double> k2 = Vector128.Create(a2);
        Vector128<double> k3 = Vector128.Create(a3);
        Vector128<double> k = Vector128.Create(Math.Sqrt(2));
        Vector128<double> loudest = Vector128.Create(LoudestSample);
        for (int n = 0; n < left.Length; n++)
        {
            Vector128<double> x = Vector128.Create((double)left[n], right[n]);
            x &= Vector128.LessThanOrEqual(Vector128.Abs(x), loudest);
            Vector128<double> v3 = x - s2;
            Vector128<double> v1 = Vector128.FusedMultiplyAdd(k1, s1, k2 * v3);
            Vector128<double> low = s2 + Vector128.FusedMultiplyAdd(k2, s1, k3 * v3);
            s1 = v1 + v1 - s1;
            s2 = low + low - s2;
            Vector128<double> band = k * v1;
            Vector128<double> high = x - low - band;
            double gain = gains[n];
            Vector128<double> y = Vector128.FusedMultiplyAdd(Vector128.Create(gain - 1), high, x);
            y = Vector128.FusedMultiplyAdd(Vector128.Create(Math.Sqrt(gain) - 1), band, y);
            left[n] = OutputFloats.Narrow(y.ToScalar());
            right[n] = OutputFloats.Narrow(y[1]);
        }

        bandState = s1;
        lowState = s2;
    }
}
