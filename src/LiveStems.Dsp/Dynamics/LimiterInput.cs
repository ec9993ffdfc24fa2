using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>What a limiter does to samples before it looks at them.</summary>
public static class LimiterInput
{
    /// <summary>No sample goes in higher than this: +80 dB.</summary>
    public const float Loudest = 10_000;

    private const float OctavesPerDb = 0.166096405f;

    /// <summary>
    /// Applies a gain in dB that moves in the control interval, and holds the result within ±<see cref="Loudest"/>; what
    /// is no number becomes silence.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Condition(Span<float> samples, in Ramp gainDb, int position)
    {
        ref float x = ref MemoryMarshal.GetReference(samples);
        Vector256<float> steady = Gain(gainDb, 0);
        int whole = samples.Length & -Vector256<float>.Count;
        int i = 0;
        if (Vector512.IsHardwareAccelerated && gainDb.StandsStill)
        {
            Vector512<float> steadyTwice = Vector512.Create(steady, steady);
            for (; i <= whole - Vector512<float>.Count; i += Vector512<float>.Count)
            {
                Held(Vector512.LoadUnsafe(ref x, (nuint)i) * steadyTwice).StoreUnsafe(ref x, (nuint)i);
            }
        }

        for (; i < whole; i += Vector256<float>.Count)
        {
            Vector256<float> gain = gainDb.StandsStill ? steady : Gain(gainDb, position + i);
            Held(Vector256.LoadUnsafe(ref x, (nuint)i) * gain).StoreUnsafe(ref x, (nuint)i);
        }

        if (whole < samples.Length)
        {
            Span<float> rest = stackalloc float[Vector256<float>.Count];
            samples[whole..].CopyTo(rest);
            Vector256<float> last = Held(Vector256.LoadUnsafe(ref MemoryMarshal.GetReference(rest)) * Gain(gainDb, position + whole));
            last.StoreUnsafe(ref MemoryMarshal.GetReference(rest));
            rest[..(samples.Length - whole)].CopyTo(samples[whole..]);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Gain(in Ramp gainDb, int position) =>
        VectorExp2.Of(gainDb.At(position) * Vector256.Create(OctavesPerDb));

    // Infinity is held; NaN fails the comparison with itself and becomes 0.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Held(Vector256<float> x)
    {
        Vector256<float> number = x & Vector256.Equals(x, x);
        return Vector256.MaxNative(Vector256.Create(-Loudest), Vector256.MinNative(Vector256.Create(Loudest), number));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Held(Vector512<float> x)
    {
        Vector512<float> number = x & Vector512.Equals(x, x);
        return Vector512.MaxNative(Vector512.Create(-Loudest), Vector512.MinNative(Vector512.Create(Loudest), number));
    }
}
