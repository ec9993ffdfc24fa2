using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Dsp.Loudness;

/// <summary>
/// Sixteen values between two samples by a Kaiser-windowed sinc (see <see cref="KaiserWindow"/>: 96 taps a phase, β for
/// 100 dB; flat up to 0.46 of the sample rate). One frame at a time in double precision, the phases being the lanes.
/// </summary>
internal sealed class KaiserInterpolator
{
    /// <summary>Values for each sample.</summary>
    public const int Phases = 16;

    /// <summary>Samples that go into each value.</summary>
    public const int Taps = 96;

    private const double StopbandDb = 100;

    // Tap after tap, its sixteen phases side by side.
    private readonly double[] taps = new double[Taps * Phases];

    // The taps half-way between two samples, by themselves.
    private readonly float[] halfWayTaps = new float[Taps];

    public KaiserInterpolator()
    {
        double beta = KaiserWindow.Beta(StopbandDb);
        for (int k = 0; k < Taps; k++)
        {
            for (int phase = 0; phase < Phases; phase++)
            {
                double distance = k - (Taps / 2 - 1) - (double)phase / Phases;
                taps[k * Phases + phase] = KaiserWindow.Value(distance / (Taps / 2), beta) * Sinc(distance);
            }

            halfWayTaps[k] = (float)taps[k * Phases + Phases / 2];
        }
    }

    /// <summary>
    /// The value of sample 47 of the window and the fifteen between it and the next.
    /// </summary>
    /// <param name="window"><see cref="Taps"/> samples.</param>
    /// <param name="values"><see cref="Phases"/> values.</param>
    public void Interpolate(ReadOnlySpan<double> window, Span<double> values)
    {
        ref double tap = ref MemoryMarshal.GetArrayDataReference(taps);
        Vector256<double> even0 = default, even1 = default, even2 = default, even3 = default;
        Vector256<double> odd0 = default, odd1 = default, odd2 = default, odd3 = default;

        // Two sums, of even and of odd taps, keep twice as many additions under way.
        for (int k = 0; k < Taps; k += 2)
        {
            Vector256<double> sample = Vector256.Create(window[k]);
            even0 = Vector256.FusedMultiplyAdd(sample, Vector256.LoadUnsafe(ref tap, 0), even0);
            even1 = Vector256.FusedMultiplyAdd(sample, Vector256.LoadUnsafe(ref tap, 4), even1);
            even2 = Vector256.FusedMultiplyAdd(sample, Vector256.LoadUnsafe(ref tap, 8), even2);
            even3 = Vector256.FusedMultiplyAdd(sample, Vector256.LoadUnsafe(ref tap, 12), even3);
            sample = Vector256.Create(window[k + 1]);
            odd0 = Vector256.FusedMultiplyAdd(sample, Vector256.LoadUnsafe(ref tap, 16), odd0);
            odd1 = Vector256.FusedMultiplyAdd(sample, Vector256.LoadUnsafe(ref tap, 20), odd1);
            odd2 = Vector256.FusedMultiplyAdd(sample, Vector256.LoadUnsafe(ref tap, 24), odd2);
            odd3 = Vector256.FusedMultiplyAdd(sample, Vector256.LoadUnsafe(ref tap, 28), odd3);
            tap = ref Unsafe.Add(ref tap, 2 * Phases);
        }

        (even0 + odd0).CopyTo(values);
        (even1 + odd1).CopyTo(values[4..]);
        (even2 + odd2).CopyTo(values[8..]);
        (even3 + odd3).CopyTo(values[12..]);
    }

    /// <summary>
    /// The values half-way between two samples, in single precision, the frames being the lanes: for a look at where more
    /// precision is worth it.
    /// </summary>
    /// <param name="samples">The samples; value n is made of those from n on, <see cref="Taps"/> of them.</param>
    /// <param name="values">The values.</param>
    /// <param name="count">How many.</param>
    public void HalfWay(ReadOnlySpan<float> samples, Span<float> values, int count)
    {
        int n = 0;
        for (; n <= count - 4 * Vector256<float>.Count; n += 4 * Vector256<float>.Count)
        {
            ref float from = ref Unsafe.Add(ref MemoryMarshal.GetReference(samples), n);
            Vector256<float> sum0 = default, sum1 = default, sum2 = default, sum3 = default;
            foreach (float tap in halfWayTaps)
            {
                Vector256<float> factor = Vector256.Create(tap);
                sum0 = Vector256.FusedMultiplyAdd(factor, Vector256.LoadUnsafe(ref from, 0), sum0);
                sum1 = Vector256.FusedMultiplyAdd(factor, Vector256.LoadUnsafe(ref from, 8), sum1);
                sum2 = Vector256.FusedMultiplyAdd(factor, Vector256.LoadUnsafe(ref from, 16), sum2);
                sum3 = Vector256.FusedMultiplyAdd(factor, Vector256.LoadUnsafe(ref from, 24), sum3);
                from = ref Unsafe.Add(ref from, 1);
            }

            sum0.CopyTo(values[n..]);
            sum1.CopyTo(values[(n + 8)..]);
            sum2.CopyTo(values[(n + 16)..]);
            sum3.CopyTo(values[(n + 24)..]);
        }

        for (; n < count; n++)
        {
            float sum = 0;
            for (int k = 0; k < Taps; k++)
            {
                sum += halfWayTaps[k] * samples[n + k];
            }

            values[n] = sum;
        }
    }

    private static double Sinc(double t) => t == 0 ? 1 : Math.Sin(Math.PI * t) / (Math.PI * t);
}
