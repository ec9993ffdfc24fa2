namespace LiveStems.Dsp.Loudness;

internal static class StereoChannels
{
    public static void ThrowIfLengthsDiffer(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        if (left.Length != right.Length)
        {
            throw new ArgumentException($"The channels differ in length: {left.Length} frames left, {right.Length} right.", nameof(right));
        }
    }
}
