namespace LiveStems.Conformance.Loudness;

/// <summary>Stereo programmes to compare meters on: made the same at every sample rate, from a seed.</summary>
internal static class ReferenceProgrammes
{
    public static IEnumerable<string> Names => ["moving pink noise", "noise bursts", "chords", "very wide range"];

    public static (float[] Left, float[] Right) Make(string name, int sampleRate) => name switch
    {
        "moving pink noise" => Shape(sampleRate, 45, 1, seconds => -26 + 9 * Math.Sin(2 * Math.PI * seconds / 17) + 4 * Math.Sin(2 * Math.PI * seconds / 2.3)),
        "noise bursts" => Shape(sampleRate, 40, 2, seconds => seconds % 2.5 < 0.6 ? -14 : seconds % 2.5 < 1.1 ? -38 : -78),
        "chords" => Chords(sampleRate, 30),
        "very wide range" => Shape(sampleRate, 60, 3, seconds => seconds < 20 ? -48 : seconds < 40 ? -12 : -30),
        _ => throw new ArgumentOutOfRangeException(nameof(name)),
    };

    // Pink noise between about 30 Hz and 6 kHz, partly common to both channels, at a level in dB that follows time.
    private static (float[] Left, float[] Right) Shape(int sampleRate, double seconds, int seed, Func<double, double> levelDb)
    {
        int frames = (int)(seconds * sampleRate);
        float[] common = PinkNoise(sampleRate, frames, seed);
        float[] left = PinkNoise(sampleRate, frames, seed + 100);
        float[] right = PinkNoise(sampleRate, frames, seed + 200);
        for (int n = 0; n < frames; n++)
        {
            double amplitude = Math.Pow(10, levelDb((double)n / sampleRate) / 20);
            left[n] = (float)(amplitude * (common[n] + 0.5 * left[n]));
            right[n] = (float)(amplitude * (common[n] + 0.4 * right[n]));
        }

        return (left, right);
    }

    // A sum of one-pole low-passed noises, an octave apart and equally strong: −3 dB an octave up to 6 kHz. A further pole
    // there makes it fall by 12 dB an octave above, as music does (common practice).
    private static float[] PinkNoise(int sampleRate, int frames, int seed)
    {
        Random random = new(seed);
        const int Octaves = 8;
        double[] states = new double[Octaves];
        double softened = 0;
        float[] samples = new float[frames];
        for (int n = 0; n < frames; n++)
        {
            double sum = 0;
            for (int octave = 0; octave < Octaves; octave++)
            {
                double share = 1 - Math.Exp(-2 * Math.PI * 45 * (1 << octave) / sampleRate);
                states[octave] += share * (2 * random.NextDouble() - 1 - states[octave]);
                sum += states[octave] / Math.Sqrt(share);
            }

            softened += (1 - Math.Exp(-2 * Math.PI * 6000 / sampleRate)) * (sum - softened);
            samples[n] = (float)(0.35 * softened);
        }

        return samples;
    }

    // Struck chords that die away, a different one every 1.7 s, the voices spread between the channels.
    private static (float[] Left, float[] Right) Chords(int sampleRate, double seconds)
    {
        int frames = (int)(seconds * sampleRate);
        float[] left = new float[frames];
        float[] right = new float[frames];
        double[] roots = [110, 146.83, 98, 130.81];
        double[] ratios = [1, 1.25, 1.5, 2, 3, 4.02, 6.05];
        for (int n = 0; n < frames; n++)
        {
            double time = (double)n / sampleRate;
            double sinceStroke = time % 1.7;
            double root = roots[(int)(time / 1.7) % roots.Length];
            double envelope = 0.12 * Math.Exp(-1.8 * sinceStroke) * Math.Min(1, sinceStroke / 0.004);
            for (int voice = 0; voice < ratios.Length; voice++)
            {
                double sound = envelope * Math.Sin(2 * Math.PI * root * ratios[voice] * sinceStroke + voice);
                double pan = (voice + 0.5) / ratios.Length;
                left[n] += (float)(sound * Math.Cos(Math.PI / 2 * pan));
                right[n] += (float)(sound * Math.Sin(Math.PI / 2 * pan));
            }
        }

        return (left, right);
    }
}
