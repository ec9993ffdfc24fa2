namespace LiveStems.Tests.Signals;

/// <summary>Reproducible noise.</summary>
internal static class Noise
{
    /// <summary>White noise between −level and +level.</summary>
    public static float[] White(int frames, int seed, float level = 0.5f)
    {
        Random random = new(seed);
        float[] samples = new float[frames];
        for (int i = 0; i < frames; i++)
        {
            samples[i] = level * (2 * random.NextSingle() - 1);
        }

        return samples;
    }
}
