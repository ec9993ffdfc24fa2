using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// Mean power of two channels through a one-pole window: m[n] = α m[n−1] + (1 − α) x²[n], with τ as the window's length.
/// </summary>
public sealed class PowerDetector
{
    private Step step;

    /// <summary>Sets the length of the window (τ); the state stays.</summary>
    public void SetWindow(double milliseconds, double sampleRate) =>
        step.Window = new Pole(TimeConstant.Pole(milliseconds, sampleRate));

    /// <summary>Silence before.</summary>
    public void Reset() => step.Power = Vector128<double>.Zero;

    /// <summary>Sets power below 1e-20 to zero.</summary>
    public void FlushTinyState() => step.Power &= Vector128.GreaterThan(step.Power, Vector128.Create(1e-20));

    /// <summary>
    /// Writes the running mean power of each channel. All spans have one length; outputs may be the inputs. Samples that
    /// are not finite, or beyond ±1e6, count as silence.
    /// </summary>
    public void Process(ReadOnlySpan<float> left, ReadOnlySpan<float> right, Span<float> leftPower, Span<float> rightPower) =>
        StereoRecursion.Run(ref step, left, right, leftPower, rightPower);

    private struct Step : IStereoStep
    {
        public Vector128<double> Power;
        public Pole Window;

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector128<double> Next(Vector128<double> frame)
        {
            Vector128<double> x = frame & Vector128.LessThanOrEqual(Vector128.Abs(frame), Vector128.Create(1e6));
            return Power = Window.Step(Power, x * x);
        }
    }
}
