using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Resampling;

/// <summary>Direct convolution of stereo pairs, each sum in the same order wherever it lies.</summary>
internal static class PairFir
{
    /// <summary>Frames computed at a time; frame counts are multiples of it.</summary>
    public const int Frames = 8;

    /// <summary>Eight frames: Σ taps[j]·input[i + j], for i from 0 to 7, symmetric taps of even number.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static (Vector512<double> First, Vector512<double> Second) Eight(ref double taps, int count, ref double input)
    {
        Vector512<double> a = Vector512<double>.Zero;
        Vector512<double> b = Vector512<double>.Zero;
        Vector512<double> c = Vector512<double>.Zero;
        Vector512<double> d = Vector512<double>.Zero;
        for (nuint j = 0; j < (nuint)count; j += 2)
        {
            Vector512<double> first = Vector512.Create(Unsafe.Add(ref taps, j));
            Vector512<double> second = Vector512.Create(Unsafe.Add(ref taps, j + 1));
            a = Vector512.FusedMultiplyAdd(first, Vector512.LoadUnsafe(ref input, 2 * j), a);
            b = Vector512.FusedMultiplyAdd(first, Vector512.LoadUnsafe(ref input, 2 * j + 8), b);
            c = Vector512.FusedMultiplyAdd(second, Vector512.LoadUnsafe(ref input, 2 * j + 2), c);
            d = Vector512.FusedMultiplyAdd(second, Vector512.LoadUnsafe(ref input, 2 * j + 10), d);
        }

        return (a + c, b + d);
    }
}
