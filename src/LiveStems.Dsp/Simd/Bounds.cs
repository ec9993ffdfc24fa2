using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Simd;

/// <summary>Keeps sound within bounds.</summary>
public static class Bounds
{
    /// <summary>Holds samples to ±<paramref name="limit"/>; samples that are not numbers become silence.</summary>
    public static void Hold(Span<float> samples, float limit)
    {
        Span<Vector256<float>> eights = MemoryMarshal.Cast<float, Vector256<float>>(samples);
        Vector256<float> highest = Vector256.Create(limit);
        Vector256<float> lowest = Vector256.Create(-limit);
        foreach (ref Vector256<float> eight in eights)
        {
            Vector256<float> held = Vector256.ConditionalSelect(Vector256.GreaterThan(eight, highest), highest, eight);
            held = Vector256.ConditionalSelect(Vector256.LessThan(held, lowest), lowest, held);
            eight = held & Vector256.Equals(held, held);
        }

        foreach (ref float sample in samples[(Vector256<float>.Count * eights.Length)..])
        {
            float held = sample > limit ? limit : sample;
            held = held < -limit ? -limit : held;
            sample = float.IsNaN(held) ? 0 : held;
        }
    }
}
