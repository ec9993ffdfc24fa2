using LiveStems.Albums.Model;

namespace LiveStems.Engine.RealTime;

/// <summary>Mid = (L+R)/2 and side = (L−R)/2; L = mid + side, R = mid − side (common practice).</summary>
internal static class MidSide
{
    /// <summary>The mid or the side of a stereo sound.</summary>
    public static void Extract(StereoScope scope, ReadOnlySpan<float> left, ReadOnlySpan<float> right, Span<float> part)
    {
        float sign = scope == StereoScope.Mid ? 0.5f : -0.5f;
        for (int i = 0; i < part.Length; i++)
        {
            part[i] = 0.5f * left[i] + sign * right[i];
        }
    }

    /// <summary>The stereo sound with its mid or side replaced.</summary>
    public static void Replace(
        StereoScope scope,
        ReadOnlySpan<float> part,
        ReadOnlySpan<float> originalLeft,
        ReadOnlySpan<float> originalRight,
        Span<float> left,
        Span<float> right)
    {
        for (int i = 0; i < part.Length; i++)
        {
            float mid = scope == StereoScope.Mid ? part[i] : 0.5f * originalLeft[i] + 0.5f * originalRight[i];
            float side = scope == StereoScope.Side ? part[i] : 0.5f * originalLeft[i] - 0.5f * originalRight[i];
            left[i] = mid + side;
            right[i] = mid - side;
        }
    }
}
