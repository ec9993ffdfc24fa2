namespace LiveStems.Tests.Signals;

/// <summary>
/// A synthetic sentence: vowels of harmonics under formants, sibilants of high noise, and pauses; one syllable is 0.3 s of vowel and
/// 0.12 s of sibilant, with 10 ms at each end to rise and fall, and every third is followed by 0.3 s of silence.
/// </summary>
internal sealed class Sentence
{
    private const double VowelSeconds = 0.3;
    private const double SibilantSeconds = 0.12;
    private const double PauseSeconds = 0.3;
    private const double EdgeSeconds = 0.01;

    // Formants of three vowels, Hz (after Peterson and Barney 1952, men, rounded; from memory).
    private static readonly double[][] Formants = [[730, 1090, 2440], [530, 1840, 2480], [570, 840, 2410]];

    private readonly int sampleRate;
    private readonly List<float> sound = [];

    /// <summary>Speaks a number of syllables.</summary>
    /// <param name="sampleRate">Frames a second.</param>
    /// <param name="syllables">How many.</param>
    /// <param name="sibilantLevel">RMS of the sibilants beside that of the vowels, as a ratio; 0 leaves silence in their place.</param>
    public Sentence(int sampleRate, int syllables, double sibilantLevel)
    {
        this.sampleRate = sampleRate;
        Random random = new(77);
        for (int syllable = 0; syllable < syllables; syllable++)
        {
            Vowels.Add(Append(Vowel(110 + 7 * (syllable % 5), Formants[syllable % 3]), 0.1));
            Sibilants.Add(Append(Sibilant(random), 0.1 * sibilantLevel));
            if (syllable % 3 == 2)
            {
                sound.AddRange(new float[(int)(PauseSeconds * sampleRate)]);
            }
        }
    }

    /// <summary>The samples.</summary>
    public float[] Sound => [.. sound];

    /// <summary>Where the vowels lie.</summary>
    public List<Range> Vowels { get; } = [];

    /// <summary>Where the sibilants lie.</summary>
    public List<Range> Sibilants { get; } = [];

    /// <summary>Mean power of a stretch.</summary>
    public static double Power(float[] sound, Range stretch) => sound[stretch].Average(sample => (double)sample * sample);

    private Range Append(double[] part, double rms)
    {
        double gain = rms / Math.Sqrt(part.Average(sample => sample * sample));
        int start = sound.Count;
        for (int n = 0; n < part.Length; n++)
        {
            double edge = Math.Min(1, Math.Min(n, part.Length - n) / (EdgeSeconds * sampleRate));
            sound.Add((float)(gain * edge * part[n]));
        }

        return start..sound.Count;
    }

    // Harmonics to 10 kHz, falling by 12 dB an octave and raised by each formant's resonance of 90 Hz width.
    private double[] Vowel(double fundamentalHz, double[] formants)
    {
        double[] samples = new double[(int)(VowelSeconds * sampleRate)];
        for (int harmonic = 1; harmonic * fundamentalHz < 10_000; harmonic++)
        {
            double f = harmonic * fundamentalHz;
            double amplitude = 1.0 / (harmonic * harmonic);
            foreach (double formant in formants)
            {
                double real = 1 - f * f / (formant * formant);
                double imaginary = 90 * f / (formant * formant);
                amplitude /= Math.Max(Math.Sqrt(real * real + imaginary * imaginary), 0.05 * f / formant);
            }

            // The resonances of a closed formant set fall too far above them; a real voice's higher formants hold it up.
            amplitude = Math.Max(amplitude, 3e-4);
            for (int n = 0; n < samples.Length; n++)
            {
                samples[n] += amplitude * Math.Sin(2 * Math.PI * f * n / sampleRate + harmonic * harmonic);
            }
        }

        return samples;
    }

    // Noise through two resonances at 6.5 kHz with a Q of 2: x + 2 r cos θ y1 − r² y2.
    private double[] Sibilant(Random random)
    {
        double[] samples = new double[(int)(SibilantSeconds * sampleRate)];
        double radius = Math.Exp(-Math.PI * 3250 / sampleRate);
        double angle = 2 * Math.PI * 6500 / sampleRate;
        for (int n = 0; n < samples.Length; n++)
        {
            samples[n] = 2 * random.NextDouble() - 1;
        }

        for (int pass = 0; pass < 2; pass++)
        {
            double last = 0, beforeLast = 0;
            for (int n = 0; n < samples.Length; n++)
            {
                double y = samples[n] + 2 * radius * Math.Cos(angle) * last - radius * radius * beforeLast;
                samples[n] = y - last;
                (beforeLast, last) = (last, y);
            }
        }

        return samples;
    }
}
