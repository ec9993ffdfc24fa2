using LiveStems.App.Demo.Mixing;

namespace LiveStems.App.Demo.Instruments;

/// <summary>Short noises that begin and die away: beaters, sticks, picks, wires.</summary>
internal static class Strike
{
    /// <summary>Adds filtered noise with a rise and a fall (time to −60 dB) to the start of a run of samples.</summary>
    public static void AddNoise(
        Span<float> output, int sampleRate, uint seed, Biquad filter, double gain, double riseMs, double fallMs)
    {
        var noise = new Noise(seed);
        int frames = Math.Min(output.Length, (int)((riseMs + 1.3 * fallMs) * sampleRate / 1000));
        double keep = Math.Pow(10, -3000 / (fallMs * sampleRate));
        double rise = 1 - Math.Exp(-3000 / (Math.Max(riseMs, 0.02) * sampleRate));
        double fall = gain;
        double risen = 0;
        for (int i = 0; i < frames; i++)
        {
            risen += (1 - risen) * rise;
            fall *= keep;
            output[i] += (float)(fall * risen * filter.Next(noise.Next()));
        }
    }

    /// <summary>The rest of a track from a moment on, or nothing beyond its end.</summary>
    public static Span<float> From(float[] track, double seconds, int sampleRate)
    {
        int frame = Math.Max(0, (int)Math.Round(seconds * sampleRate));
        return frame >= track.Length ? [] : track.AsSpan(frame);
    }
}
