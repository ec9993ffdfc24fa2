using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The highest magnitude of the last <see cref="Milliseconds"/>: a peak level that rises at once and stands still on any
/// steady tone whose half period fits into the window (40 Hz and above), so that gains derived from it do not follow the
/// waveform.
/// </summary>
/// <param name="sampleRate">Samples a second.</param>
/// <param name="maximumSamples">The longest run handed over at once.</param>
public sealed class PeakWindow(double sampleRate, int maximumSamples)
{
    /// <summary>Length of the window.</summary>
    public const double Milliseconds = 12.5;

    private const float Loudest = 1e6f;

    private readonly RunningMaximum highest = new(Math.Max(1, (int)Math.Round(Milliseconds * sampleRate / 1000)), maximumSamples);

    /// <summary>Silence before.</summary>
    public void Reset() => highest.Reset();

    /// <summary>
    /// Replaces samples by the highest magnitude of the window that ends there; samples that are not numbers count as
    /// silence, those beyond ±1e6 as 1e6.
    /// </summary>
    public void Process(Span<float> samples)
    {
        Span<Vector256<float>> eights = MemoryMarshal.Cast<float, Vector256<float>>(samples);
        Vector256<float> loudest = Vector256.Create(Loudest);
        foreach (ref Vector256<float> eight in eights)
        {
            Vector256<float> size = Vector256.Abs(eight);
            size = Vector256.ConditionalSelect(Vector256.GreaterThan(size, loudest), loudest, size);
            eight = size & Vector256.LessThanOrEqual(size, loudest);
        }

        foreach (ref float sample in samples[(Vector256<float>.Count * eights.Length)..])
        {
            float size = Math.Abs(sample);
            size = size > Loudest ? Loudest : size;
            sample = size <= Loudest ? size : 0;
        }

        highest.Process(samples);
    }
}
