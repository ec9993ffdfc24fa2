namespace LiveStems.Bench;

/// <summary>Something like music to measure: pink noise whose level moves, and tones; the same every time.</summary>
internal static class ProgrammeSamples
{
    public static float[] PinkNoise(int sampleRate, double seconds, int seed)
    {
        float[] samples = new float[(int)(sampleRate * seconds)];
        Random random = new(seed);
        double slow = 0, middle = 0, fast = 0;
        for (int n = 0; n < samples.Length; n++)
        {
            // P. Kellet's economy filter (from memory): pink within 0.5 dB.
            double white = 2 * random.NextDouble() - 1;
            slow = 0.99765 * slow + 0.0990460 * white;
            middle = 0.96300 * middle + 0.2965164 * white;
            fast = 0.57000 * fast + 1.0526913 * white;
            double level = 0.05 * (1.2 + Math.Sin(2 * Math.PI * 0.3 * n / sampleRate));
            samples[n] = (float)(level * (slow + middle + fast + 0.1848 * white));
        }

        return samples;
    }
}
