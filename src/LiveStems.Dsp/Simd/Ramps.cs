using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Simd;

/// <summary>Gains and bounds that move over a control interval, on one channel; the last samples go the way of all others.</summary>
public static class Ramps
{
    /// <summary>Multiplies each sample by the ramp's value there.</summary>
    public static void Multiply(Span<float> samples, in Ramp gain, int position) => Run<Product>(samples, gain, position);

    /// <summary>Holds each sample to ± the ramp's value there.</summary>
    public static void Hold(Span<float> samples, in Ramp limit, int position) => Run<Held>(samples, limit, position);

    private static void Run<T>(Span<float> samples, in Ramp ramp, int position)
        where T : struct, IOperation
    {
        int whole = samples.Length & -Vector256<float>.Count;
        ref float at = ref MemoryMarshal.GetReference(samples);
        for (int i = 0; i < whole; i += Vector256<float>.Count)
        {
            T.Apply(Vector256.LoadUnsafe(ref at, (nuint)i), ramp.At(position + i)).StoreUnsafe(ref at, (nuint)i);
        }

        if (whole < samples.Length)
        {
            Span<float> rest = stackalloc float[Vector256<float>.Count];
            samples[whole..].CopyTo(rest);
            T.Apply(Vector256.LoadUnsafe(ref rest[0]), ramp.At(position + whole)).StoreUnsafe(ref rest[0]);
            rest[..(samples.Length - whole)].CopyTo(samples[whole..]);
        }
    }

    private interface IOperation
    {
        static abstract Vector256<float> Apply(Vector256<float> sample, Vector256<float> value);
    }

    private readonly struct Product : IOperation
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public static Vector256<float> Apply(Vector256<float> sample, Vector256<float> value) => sample * value;
    }

    private readonly struct Held : IOperation
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public static Vector256<float> Apply(Vector256<float> sample, Vector256<float> value) =>
            Vector256.MaxNative(Vector256.MinNative(sample, value), -value);
    }
}
