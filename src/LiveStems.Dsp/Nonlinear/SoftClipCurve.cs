using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Nonlinear;

/// <summary>
/// A clipper with a rounded corner: straight up to the start of the knee, a parabola from there, level at the ceiling.
/// </summary>
/// <remarks>
/// Derived from three conditions (value and slope go on at the start a of the knee, the slope is 0 where the ceiling c is
/// reached), which leave one parabola. With the end of the knee b = 2c − a, for |x|:
/// y = x up to a; y = c − (b − x)² / (4 (c − a)) from a to b; y = c beyond. |y| never passes c, nor |x|.
/// </remarks>
/// <param name="Ceiling">c, the highest magnitude of the output, above 0.</param>
/// <param name="KneeStart">a, from 0 to the ceiling; at the ceiling the corner is sharp.</param>
public readonly record struct SoftClipCurve(double Ceiling, double KneeStart)
{
    /// <summary>The curve whose knee starts so many decibels below its ceiling.</summary>
    public static SoftClipCurve FromDecibels(double ceilingDb, double kneeDb) =>
        new(Decibels.ToAmplitude(ceilingDb), Decibels.ToAmplitude(ceilingDb - kneeDb));

    /// <summary>The clipped value.</summary>
    public double Value(double x)
    {
        double size = Math.Abs(x);
        double below = Math.Clamp(2 * Ceiling - KneeStart - size, 0, 2 * (Ceiling - KneeStart));
        double bent = Ceiling > KneeStart ? Ceiling - below * below / (4 * (Ceiling - KneeStart)) : Ceiling;
        return Math.CopySign(Math.Min(size, bent), x);
    }

    /// <summary>Clips samples in place while ceiling and knee move over a control interval.</summary>
    /// <param name="samples">Any number of samples.</param>
    /// <param name="ceiling">c of each sample.</param>
    /// <param name="kneeStart">a of each sample.</param>
    /// <param name="position">Place of the first sample in the ramps.</param>
    public static void Process(Span<float> samples, in Ramp ceiling, in Ramp kneeStart, int position)
    {
        int whole = samples.Length & -Vector256<float>.Count;
        ref float at = ref MemoryMarshal.GetReference(samples);
        for (int i = 0; i < whole; i += Vector256<float>.Count)
        {
            Value(Vector256.LoadUnsafe(ref at, (nuint)i), ceiling.At(position + i), kneeStart.At(position + i)).StoreUnsafe(ref at, (nuint)i);
        }

        if (whole < samples.Length)
        {
            Span<float> rest = stackalloc float[Vector256<float>.Count];
            samples[whole..].CopyTo(rest);
            Value(Vector256.LoadUnsafe(ref rest[0]), ceiling.At(position + whole), kneeStart.At(position + whole)).StoreUnsafe(ref rest[0]);
            rest[..(samples.Length - whole)].CopyTo(samples[whole..]);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Value(Vector256<float> x, Vector256<float> ceiling, Vector256<float> kneeStart)
    {
        Vector256<float> sign = x & Vector256.Create(-0f);
        Vector256<float> size = Vector256.Abs(x);
        Vector256<float> width = Vector256.MaxNative(ceiling - kneeStart, Vector256.Create(1e-9f));
        Vector256<float> below = Vector256.MinNative(Vector256.MaxNative(ceiling + width - size, Vector256<float>.Zero), width + width);
        Vector256<float> bent = ceiling - below * below / (width * Vector256.Create(4f));
        return Vector256.ConditionalSelect(Vector256.GreaterThan(size, kneeStart), Vector256.MinNative(size, bent), size) | sign;
    }
}
