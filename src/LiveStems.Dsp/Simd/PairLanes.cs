using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace LiveStems.Dsp.Simd;

/// <summary>Orders of eight doubles for stereo frames that lie as pairs.</summary>
internal static class PairLanes
{
    /// <summary>Four left and four right samples as four pairs.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> Interleave(Vector512<double> channels) => Ordered(channels, Vector512.Create(0L, 4, 1, 5, 2, 6, 3, 7));

    /// <summary>Four pairs as four left and four right samples.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> Separate(Vector512<double> pairs) => Ordered(pairs, Vector512.Create(0L, 2, 4, 6, 1, 3, 5, 7));

    /// <summary>The lower four, each twice.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> TwiceLower(Vector512<double> values) => Ordered(values, Vector512.Create(0L, 0, 1, 1, 2, 2, 3, 3));

    /// <summary>The upper four, each twice.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<double> TwiceUpper(Vector512<double> values) => Ordered(values, Vector512.Create(4L, 4, 5, 5, 6, 6, 7, 7));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> Ordered(Vector512<double> values, Vector512<long> order) =>
        Avx512F.IsSupported ? Avx512F.PermuteVar8x64(values, order) : Vector512.Shuffle(values, order);
}
