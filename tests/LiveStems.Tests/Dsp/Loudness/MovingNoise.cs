namespace LiveStems.Tests.Dsp.Loudness;

/// <summary>White noise through a one-pole low-pass whose level jumps every so often: busy, with loud and quiet parts.</summary>
internal static class MovingNoise
{
    public static (float[] Left, float[] Right) Make(int sampleRate, double seconds, int seed)
    {
        Random random = new(seed);
        int frames = (int)(sampleRate * seconds);
        float[] left = new float[frames];
        float[] right = new float[frames];
        double levelDb = -20, leftState = 0, rightState = 0;
        for (int n = 0; n < frames; n++)
        {
            if (n % (sampleRate / 2) == 0)
            {
                levelDb = random.Next(12) == 0 ? -90 : -45 + 40 * random.NextDouble();
            }

            double amplitude = Math.Pow(10, levelDb / 20);
            leftState += 0.3 * (2 * random.NextDouble() - 1 - leftState);
            rightState += 0.3 * (2 * random.NextDouble() - 1 - rightState);
            left[n] = (float)(amplitude * leftState);
            right[n] = (float)(amplitude * rightState);
        }

        return (left, right);
    }
}
