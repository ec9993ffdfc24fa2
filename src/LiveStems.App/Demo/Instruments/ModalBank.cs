using System.Runtime.Intrinsics;

namespace LiveStems.App.Demo.Instruments;

/// <summary>A decaying partial.</summary>
/// <param name="Hertz">Frequency.</param>
/// <param name="Amplitude">Peak at its start.</param>
/// <param name="DecaySeconds">Time to −60 dB.</param>
/// <param name="Phase">Phase at its start in turns.</param>
internal readonly record struct Mode(double Hertz, double Amplitude, double DecaySeconds, double Phase);

/// <summary>
/// Sums decaying partials, four at a time, each by the two-term recurrence of a damped oscillator:
/// y[n] = 2 r cos ω · y[n−1] − r² · y[n−2].
/// </summary>
internal static class ModalBank
{
    /// <summary>Adds the modes to a run of samples from its start; modes above 0.45 of the sample rate are left out.</summary>
    public static void AddTo(Span<float> output, ReadOnlySpan<Mode> modes, int sampleRate, double gain = 1)
    {
        Span<double> once = stackalloc double[4];
        Span<double> twice = stackalloc double[4];
        Span<double> forward = stackalloc double[4];
        Span<double> back = stackalloc double[4];
        for (int start = 0; start < modes.Length; start += 4)
        {
            once.Clear();
            twice.Clear();
            forward.Clear();
            back.Clear();
            double longest = 0;
            for (int lane = 0; lane < Math.Min(4, modes.Length - start); lane++)
            {
                Mode mode = modes[start + lane];
                if (mode.Hertz > 0.45 * sampleRate)
                {
                    continue;
                }

                double omega = 2 * Math.PI * mode.Hertz / sampleRate;
                double radius = Math.Pow(10, -3 / (mode.DecaySeconds * sampleRate));
                double phase = 2 * Math.PI * mode.Phase;
                forward[lane] = 2 * radius * Math.Cos(omega);
                back[lane] = radius * radius;
                once[lane] = gain * mode.Amplitude * Math.Sin(phase - omega) / radius;
                twice[lane] = gain * mode.Amplitude * Math.Sin(phase - 2 * omega) / (radius * radius);
                longest = Math.Max(longest, mode.DecaySeconds);
            }

            int frames = Math.Min(output.Length, (int)(1.4 * longest * sampleRate));
            Run(output[..frames], once, twice, forward, back);
        }
    }

    private static void Run(Span<float> output, Span<double> once, Span<double> twice, Span<double> forward, Span<double> back)
    {
        Vector256<double> y1 = Vector256.Create<double>(once);
        Vector256<double> y2 = Vector256.Create<double>(twice);
        Vector256<double> f = Vector256.Create<double>(forward);
        Vector256<double> b = Vector256.Create<double>(back);
        for (int i = 0; i < output.Length; i++)
        {
            Vector256<double> y = f * y1 - b * y2;
            y2 = y1;
            y1 = y;
            output[i] += (float)Vector256.Sum(y);
        }
    }
}
