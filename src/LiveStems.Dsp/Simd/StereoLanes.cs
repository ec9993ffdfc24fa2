using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Simd;

/// <summary>Between planar stereo and frames whose left and right samples are the two lanes of a vector.</summary>
internal static class StereoLanes
{
    /// <summary>Four planar frames as left 0, right 0, left 1, right 1 and left 2, right 2, left 3, right 3.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static (Vector128<float> Early, Vector128<float> Late) Interleave(Vector128<float> left, Vector128<float> right)
    {
        Vector128<float> leftLanes = Vector128.Create(-1, 0, -1, 0).AsSingle();
        Vector128<float> early = Vector128.ConditionalSelect(
            leftLanes,
            Vector128.Shuffle(left, Vector128.Create(0, 0, 1, 1)),
            Vector128.Shuffle(right, Vector128.Create(0, 0, 1, 1)));
        Vector128<float> late = Vector128.ConditionalSelect(
            leftLanes,
            Vector128.Shuffle(left, Vector128.Create(2, 2, 3, 3)),
            Vector128.Shuffle(right, Vector128.Create(2, 2, 3, 3)));
        return (early, late);
    }
}
