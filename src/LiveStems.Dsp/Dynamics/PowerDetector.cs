using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// Mean power of two channels through a one-pole window: m[n] = α m[n−1] + (1 − α) x²[n], with τ as the window's length.
/// </summary>
public sealed class PowerDetector
{
    private Vector128<double> power;
    private Vector128<double> pole;

    /// <summary>Sets the length of the window (τ); the state stays.</summary>
    public void SetWindow(double milliseconds, double sampleRate) =>
        pole = Vector128.Create(TimeConstant.Pole(milliseconds, sampleRate));

    /// <summary>Silence before.</summary>
    public void Reset() => power = Vector128<double>.Zero;

    /// <summary>Sets power below 1e-20 to zero.</summary>
    public void FlushTinyState() => power &= Vector128.GreaterThan(power, Vector128.Create(1e-20));

    /// <summary>
    /// Writes the running mean power of each channel. All spans have one length; samples that are not finite, or beyond
    /// ±1e6, count as silence.
    /// </summary>
    public void Process(ReadOnlySpan<float> left, ReadOnlySpan<float> right, Span<float> leftPower, Span<float> rightPower)
    {
        Vector128<double> m = power;
        Vector128<double> alpha = pole;
        Vector128<double> share = Vector128<double>.One - pole;
        Vector128<double> loudest = Vector128.Create(1e6);
        for (int i = 0; i < left.Length; i++)
        {
            Vector128<double> x = Vector128.Create((double)left[i], right[i]);
            x &= Vector128.LessThanOrEqual(Vector128.Abs(x), loudest);
            m = Vector128.FusedMultiplyAdd(alpha, m, share * x * x);
            leftPower[i] = (float)m.ToScalar();
            rightPower[i] = (float)m[1];
        }

        power = m;
    }
}
