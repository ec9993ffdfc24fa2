using System.Numerics;

namespace LiveStems.App.Demo.Mixing;

/// <summary>Sums and products over runs of samples.</summary>
internal static class Samples
{
    /// <summary>target += gain · source, over the length of the source.</summary>
    public static void AddScaled(Span<float> target, ReadOnlySpan<float> source, float gain)
    {
        int i = 0;
        var factor = new Vector<float>(gain);
        for (; i <= source.Length - Vector<float>.Count; i += Vector<float>.Count)
        {
            (new Vector<float>(target[i..]) + factor * new Vector<float>(source[i..])).CopyTo(target[i..]);
        }

        for (; i < source.Length; i++)
        {
            target[i] += gain * source[i];
        }
    }

    public static void Scale(Span<float> target, float gain)
    {
        int i = 0;
        for (; i <= target.Length - Vector<float>.Count; i += Vector<float>.Count)
        {
            (new Vector<float>(target[i..]) * gain).CopyTo(target[i..]);
        }

        for (; i < target.Length; i++)
        {
            target[i] *= gain;
        }
    }

    public static float Peak(ReadOnlySpan<float> samples)
    {
        float peak = 0;
        foreach (float sample in samples)
        {
            peak = Math.Max(peak, Math.Abs(sample));
        }

        return peak;
    }
}
