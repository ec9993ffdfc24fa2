namespace LiveStems.Files;

/// <summary>Names the sample that is no number.</summary>
internal static class NotFinite
{
    /// <summary>Where and what the first sample of a stretch is that is NaN or infinite: "NaN at 1.5 s in the left channel".</summary>
    internal static string First(
        long firstFrame, int sampleRate, int channels, ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        int frame = 0;
        while (float.IsFinite(left[frame]) && float.IsFinite(right[frame]))
        {
            frame++;
        }

        bool isLeft = !float.IsFinite(left[frame]);
        string what = float.IsNaN(isLeft ? left[frame] : right[frame]) ? "NaN" : "infinity";
        string where = channels == 1 ? "its only channel" : isLeft ? "the left channel" : "the right channel";
        return $"{what} at {FileFault.Seconds(firstFrame + frame, sampleRate)} in {where}";
    }
}
