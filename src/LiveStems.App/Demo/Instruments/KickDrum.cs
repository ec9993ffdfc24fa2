using LiveStems.App.Demo.Mixing;

namespace LiveStems.App.Demo.Instruments;

/// <summary>
/// A bass drum: a head whose pitch falls as its tension relaxes, a second mode, the beater's felt and click.
/// </summary>
/// <param name="Hertz">Pitch it settles on.</param>
/// <param name="DecaySeconds">Time to −60 dB of the head.</param>
/// <param name="Click">Loudness of the beater's click, 0 to 1.</param>
internal sealed record KickDrum(double Hertz, double DecaySeconds, double Click)
{
    public void Hit(Span<float> output, int sampleRate, double velocity, uint seed)
    {
        int frames = Math.Min(output.Length, (int)(1.1 * DecaySeconds * sampleRate));
        double keep = Math.Pow(10, -3 / (DecaySeconds * sampleRate));
        double fastKeep = Math.Exp(-1 / (0.011 * sampleRate));
        double slowKeep = Math.Exp(-1 / (0.060 * sampleRate));
        double risePerFrame = 1 - Math.Exp(-1 / (0.0006 * sampleRate));
        double fast = 1.8 + 1.2 * velocity;
        double slow = 0.55;
        double level = 0.9 * velocity;
        double risen = 0;
        double phase = 0;
        double overtone = 0.35 * velocity;
        double overtonePhase = 0.1;
        for (int i = 0; i < frames; i++)
        {
            double hertz = Hertz * (1 + fast + slow);
            phase += hertz / sampleRate;
            overtonePhase += 1.59 * hertz / sampleRate;
            risen += (1 - risen) * risePerFrame;
            output[i] += (float)(risen * (level * SineTable.Turn(phase) + overtone * SineTable.Turn(overtonePhase)));
            fast *= fastKeep;
            slow *= slowKeep;
            level *= keep;
            overtone *= keep * fastKeep;
        }

        Strike.AddNoise(output, sampleRate, seed, Biquad.BandPass(420, 0.8, sampleRate), 0.9 * velocity, 0.3, 45);
        Strike.AddNoise(
            output, sampleRate, seed + 1, Biquad.BandPass(3300, 1.1, sampleRate), 1.1 * Click * velocity * velocity, 0.1, 16);
    }
}
