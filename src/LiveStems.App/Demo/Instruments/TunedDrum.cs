using LiveStems.App.Demo.Mixing;

namespace LiveStems.App.Demo.Instruments;

/// <summary>Toms and congas: a pitched head that starts a little sharp, with a short stroke noise.</summary>
/// <param name="Hertz">Pitch of the head.</param>
/// <param name="DecaySeconds">Time to −60 dB.</param>
/// <param name="Glide">Share by which it starts sharp.</param>
/// <param name="StrokeHertz">Centre of the stroke noise.</param>
/// <param name="Stroke">Loudness of the stroke noise.</param>
internal sealed record TunedDrum(double Hertz, double DecaySeconds, double Glide, double StrokeHertz, double Stroke)
{
    public void Hit(Span<float> output, int sampleRate, double velocity, uint seed)
    {
        int frames = Math.Min(output.Length, (int)(1.2 * DecaySeconds * sampleRate));
        double keep = Math.Pow(10, -3 / (DecaySeconds * sampleRate));
        double overtoneKeep = keep * keep * keep;
        double glideKeep = Math.Exp(-1 / (0.035 * sampleRate));
        double glide = Glide * velocity;
        double level = 0.8 * velocity;
        double second = 0.35 * velocity;
        double third = 0.2 * velocity * velocity;
        double rise = 1 - Math.Exp(-1 / (0.0008 * sampleRate));
        double risen = 0;
        double phase = 0;
        for (int i = 0; i < frames; i++)
        {
            phase += Hertz * (1 + glide) / sampleRate;
            risen += (1 - risen) * rise;
            double sum = level * SineTable.Turn(phase) + second * SineTable.Turn(1.51 * phase) + third * SineTable.Turn(2.04 * phase);
            output[i] += (float)(risen * sum);
            level *= keep;
            second *= overtoneKeep;
            third *= overtoneKeep;
            glide *= glideKeep;
        }

        Strike.AddNoise(output, sampleRate, seed, Biquad.BandPass(StrokeHertz, 0.7, sampleRate), Stroke * velocity, 0.1, 25);
    }
}
