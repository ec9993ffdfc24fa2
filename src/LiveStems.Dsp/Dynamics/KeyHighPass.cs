using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The high-pass in front of a detector: Butterworth, 12 dB/oct, both channels side by side, so that a bass drum need
/// not duck the cymbals above it.
/// </summary>
/// <remarks>
/// State-variable filter with trapezoidal integrators (A. Simper, "Linear Trapezoidal Integrated SVF", 2013; V. Zavalishin,
/// "The Art of VA Filter Design", ch. 4; both from memory), so the corner may move while it runs; with g = tan(π fc/fs)
/// and k = √2: a1 = 1/(1 + g(g + k)), a2 = g a1, a3 = g a2. The two states s1, s2 follow
/// s1' = (2a1 − 1) s1 + 2a2 (x − s2) and s2' = s2 + 2a2 s1 + 2a3 (x − s2). Double state, since 20 Hz at 384 kHz leaves few bits in float.
/// </remarks>
public sealed class KeyHighPass
{
    private const double Damping = 1.4142135623730951;

    private Step step;

    /// <summary>Sets the corner (−3.01 dB), Hz, below half the sample rate; the state stays.</summary>
    public void SetCorner(double cutoffHz, double sampleRate)
    {
        double g = Math.Tan(Math.PI * cutoffHz / sampleRate);
        double a1 = 1 / (1 + g * (g + Damping));
        double a2 = g * a1;
        double a3 = g * a2;
        step.A1 = Vector128.Create(a1);
        step.A2 = Vector128.Create(a2);
        step.A3 = Vector128.Create(a3);
        step.FirstFromFirst = Vector128.Create(2 * a1 - 1);
        step.FirstFromSecond = Vector128.Create(-2 * a2);
        step.SecondFromSecond = Vector128.Create(1 - 2 * a3);
    }

    /// <summary>Silence before.</summary>
    public void Reset() => step.First = step.Second = Vector128<double>.Zero;

    /// <summary>Sets state below 1e-20 to zero.</summary>
    public void FlushTinyState()
    {
        step.First &= Vector128.GreaterThan(Vector128.Abs(step.First), Vector128.Create(1e-20));
        step.Second &= Vector128.GreaterThan(Vector128.Abs(step.Second), Vector128.Create(1e-20));
    }

    /// <summary>
    /// Filters a key. All spans have one length; outputs may be the inputs. Samples that are not finite, or beyond ±1e6,
    /// count as silence.
    /// </summary>
    public void Process(ReadOnlySpan<float> keyLeft, ReadOnlySpan<float> keyRight, Span<float> left, Span<float> right) =>
        StereoRecursion.Run(ref step, keyLeft, keyRight, left, right);

    private struct Step : IStereoStep
    {
        public Vector128<double> First;
        public Vector128<double> Second;
        public Vector128<double> A1;
        public Vector128<double> A2;
        public Vector128<double> A3;

        public Vector128<double> FirstFromFirst;
        public Vector128<double> FirstFromSecond;
        public Vector128<double> SecondFromSecond;

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector128<double> Next(Vector128<double> frame)
        {
            Vector128<double> x = frame & Vector128.LessThanOrEqual(Vector128.Abs(frame), Vector128.Create(1e6));
            Vector128<double> rest = x - Second;
            Vector128<double> band = Vector128.FusedMultiplyAdd(A1, First, A2 * rest);
            Vector128<double> low = Vector128.FusedMultiplyAdd(A2, First, A3 * rest);
            Vector128<double> high = Vector128.FusedMultiplyAdd(Vector128.Create(-Damping), band, rest - low);

            // The states straight from the states: two fused operations from frame to frame.
            Vector128<double> toFirst = Vector128.FusedMultiplyAdd(FirstFromSecond, Second, (A2 + A2) * x);
            Vector128<double> toSecond = Vector128.FusedMultiplyAdd(SecondFromSecond, Second, (A3 + A3) * x);
            Second = Vector128.FusedMultiplyAdd(A2 + A2, First, toSecond);
            First = Vector128.FusedMultiplyAdd(FirstFromFirst, First, toFirst);
            return high;
        }
    }
}
