using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Filters;

/// <summary>Planar floats to [left right] frames in double, and back.</summary>
internal static class StereoFrames
{
    private const double Tiny = 1e-20;

    public static void Gather(ReadOnlySpan<float> left, ReadOnlySpan<float> right, Span<Vector128<double>> frames)
    {
        ReadOnlySpan<Vector128<float>> left4 = MemoryMarshal.Cast<float, Vector128<float>>(left);
        ReadOnlySpan<Vector128<float>> right4 = MemoryMarshal.Cast<float, Vector128<float>>(right);
        int n = 0;
        for (int i = 0; i < left4.Length && i < right4.Length; i++, n += 4)
        {
            Span<Vector128<double>> four = frames.Slice(n, 4);
            (Vector128<double> l, Vector128<double> r) = (Vector128.WidenLower(left4[i]), Vector128.WidenLower(right4[i]));
            four[0] = Vector128.Create(l.ToScalar(), r.ToScalar());
            four[1] = Vector128.Create(l.GetElement(1), r.GetElement(1));
            (l, r) = (Vector128.WidenUpper(left4[i]), Vector128.WidenUpper(right4[i]));
            four[2] = Vector128.Create(l.ToScalar(), r.ToScalar());
            four[3] = Vector128.Create(l.GetElement(1), r.GetElement(1));
        }

        for (; n < frames.Length; n++)
        {
            frames[n] = Vector128.Create(left[n], (double)right[n]);
        }
    }

    public static void Scatter(ReadOnlySpan<Vector128<double>> frames, Span<float> left, Span<float> right)
    {
        Span<Vector128<float>> left4 = MemoryMarshal.Cast<float, Vector128<float>>(left);
        Span<Vector128<float>> right4 = MemoryMarshal.Cast<float, Vector128<float>>(right);
        int n = 0;
        for (int i = 0; i < left4.Length && i < right4.Length; i++, n += 4)
        {
            ReadOnlySpan<Vector128<double>> four = frames.Slice(n, 4);
            left4[i] = OutputFloats.Narrow(
                Vector128.Create(four[0].ToScalar(), four[1].ToScalar()), Vector128.Create(four[2].ToScalar(), four[3].ToScalar()));
            right4[i] = OutputFloats.Narrow(
                Vector128.Create(four[0].GetElement(1), four[1].GetElement(1)), Vector128.Create(four[2].GetElement(1), four[3].GetElement(1)));
        }

        for (; n < frames.Length; n++)
        {
            left[n] = OutputFloats.Narrow(frames[n].ToScalar());
            right[n] = OutputFloats.Narrow(frames[n].GetElement(1));
        }
    }

    /// <summary>Values below 1e-20 become 0.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector128<double> WithoutTiny(Vector128<double> value) =>
        Vector128.ConditionalSelect(Vector128.LessThan(Vector128.Abs(value), Vector128.Create(Tiny)), Vector128<double>.Zero, value);
}
