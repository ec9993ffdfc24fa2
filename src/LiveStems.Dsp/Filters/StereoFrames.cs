using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Filters;

/// <summary>Planar floats to [left right] frames in double, and back.</summary>
internal static class StereoFrames
{
    private const double Tiny = 1e-20;

    public static void Gather(ReadOnlySpan<float> left, ReadOnlySpan<float> right, Span<Vector128<double>> frames)
    {
        for (int n = 0; n < frames.Length; n++)
        {
            frames[n] = Vector128.Create(left[n], (double)right[n]);
        }
    }

    public static void Scatter(ReadOnlySpan<Vector128<double>> frames, Span<float> left, Span<float> right)
    {
        for (int n = 0; n < frames.Length; n++)
        {
            left[n] = (float)frames[n].ToScalar();
            right[n] = (float)frames[n].GetElement(1);
        }
    }

    /// <summary>Values below 1e-20 become 0.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector128<double> WithoutTiny(Vector128<double> value) =>
        Vector128.ConditionalSelect(Vector128.LessThan(Vector128.Abs(value), Vector128.Create(Tiny)), Vector128<double>.Zero, value);
}
