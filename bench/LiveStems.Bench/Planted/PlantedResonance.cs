using LiveStems.Analysis.Trouble;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Bench.Planted;

/// <summary>How a resonance is planted.</summary>
internal enum PlantedForm
{
    /// <summary>Noise through a resonator, following the level the sound itself has in that auditory filter.</summary>
    Ring,

    /// <summary>A resonator driven by the sound itself, added to it: a bell filter.</summary>
    Bell,
}

/// <summary>A resonance as it is to be planted.</summary>
/// <param name="Form">How.</param>
/// <param name="FrequencyHz">Where.</param>
/// <param name="SurplusDb">How far its band shall stand above the unplanted stem's trend.</param>
/// <param name="Q">How narrow.</param>
/// <param name="Ranges">When.</param>
/// <param name="IsSteady">True when it lasts throughout.</param>
internal sealed record PlantedResonance(PlantedForm Form, double FrequencyHz, double SurplusDb, double Q, IReadOnlyList<TimeRange> Ranges, bool IsSteady)
{
    private const double FadeSeconds = 0.01;
    private const double FollowSeconds = 0.02;

    /// <summary>What the resonance adds to the sound, for a gain of 1 of the resonator.</summary>
    public float[][] Added(float[][] sound, int sampleRate, Random random)
    {
        float[] gate = Gate(sound[0].Length, sampleRate);
        if (Form == PlantedForm.Bell)
        {
            return [.. sound.Select(channel => Gated(BandPass(channel, FrequencyHz, Q, sampleRate), gate))];
        }

        float[] ring = Gated(Ring(sound, sampleRate, random), gate);
        return [.. sound.Select(_ => ring)];
    }

    private float[] Ring(float[][] sound, int sampleRate, Random random)
    {
        double bandQ = FrequencyHz / ErbScale.BandwidthHz(FrequencyHz);
        float[][] own = [.. sound.Select(channel => BandPass(channel, FrequencyHz, bandQ, sampleRate))];
        float[] noise = new float[sound[0].Length];
        for (int n = 0; n < noise.Length; n++)
        {
            noise[n] = (float)(random.NextDouble() + random.NextDouble() + random.NextDouble() - 1.5);
        }

        float[] ring = BandPass(noise, FrequencyHz, Q, sampleRate);
        double pole = Math.Exp(-1 / (FollowSeconds * sampleRate));
        double follower = 0;
        for (int n = 0; n < ring.Length; n++)
        {
            double power = own.Sum(channel => (double)channel[n] * channel[n]) / own.Length;
            follower = power + pole * (follower - power);
            ring[n] *= (float)Math.Sqrt(follower);
        }

        return ring;
    }

    private static float[] Gated(float[] sound, float[] gate) => [.. sound.Select((sample, n) => gate[n] * sample)];

    private float[] Gate(int frames, int sampleRate)
    {
        float[] gate = new float[frames];
        if (IsSteady)
        {
            Array.Fill(gate, 1f);
            return gate;
        }

        foreach (TimeRange range in Ranges)
        {
            int start = (int)(range.StartSeconds * sampleRate);
            int end = Math.Min(frames, (int)(range.EndSeconds * sampleRate));
            double fade = FadeSeconds * sampleRate;
            for (int n = start; n < end; n++)
            {
                gate[n] = (float)Math.Min(1, Math.Min((n - start + 1) / fade, (end - n) / fade));
            }
        }

        return gate;
    }

    /// <summary>A two-pole band-pass of unit gain in the middle: R. Bristow-Johnson, Audio EQ Cookbook, BPF with constant peak.</summary>
    public static float[] BandPass(float[] input, double frequencyHz, double q, int sampleRate)
    {
        double w = 2 * Math.PI * frequencyHz / sampleRate;
        double alpha = Math.Sin(w) / (2 * q);
        double a0 = 1 + alpha;
        double b0 = alpha / a0;
        double a1 = -2 * Math.Cos(w) / a0;
        double a2 = (1 - alpha) / a0;
        double s1 = 0, s2 = 0;
        float[] output = new float[input.Length];
        for (int n = 0; n < input.Length; n++)
        {
            double x = input[n];
            double y = b0 * x + s1;
            s1 = -a1 * y + s2;
            s2 = -b0 * x - a2 * y;
            output[n] = (float)y;
        }

        return output;
    }
}
