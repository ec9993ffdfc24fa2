using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Instruments;

/// <summary>A pad or a group of bowed strings: several saws to a note, slow to start, spread over the picture.</summary>
/// <param name="Voices">Saws to a note.</param>
/// <param name="DetuneCents">Spread of their pitch.</param>
/// <param name="AttackSeconds">Time to full level.</param>
/// <param name="ReleaseSeconds">Time to −60 dB after the end.</param>
/// <param name="VibratoCents">Depth of each voice's own vibrato.</param>
/// <param name="Width">Spread over the picture, 0 to 1.</param>
internal readonly record struct EnsembleSettings(
    int Voices, double DetuneCents, double AttackSeconds, double ReleaseSeconds, double VibratoCents, double Width);

internal static class Ensemble
{
    private const int Interval = 32;

    public static StereoTrack Play(
        IEnumerable<ScoreNote> part, Groove groove, EnsembleSettings settings, int frames, int sampleRate, uint seed)
    {
        var track = new StereoTrack(frames, sampleRate);
        int number = 0;
        foreach (ScoreNote note in part)
        {
            PlayedNote played = groove.Play(note);
            for (int voice = 0; voice < settings.Voices; voice++)
            {
                AddVoice(track, played, settings, voice, Noise.Mix(seed, number++));
            }
        }

        return track;
    }

    // From the outside to the middle, left and right in turn, so that neighbours in pitch stand apart.
    private static double Place(int voice, int voices)
    {
        bool isMiddle = voice == voices - 1 && voices % 2 == 1;
        double distance = 1 - (voice / 2) / (voices / 2.0);
        return isMiddle ? 0 : (voice & 1) == 0 ? -distance : distance;
    }

    private static void AddVoice(StereoTrack track, in PlayedNote note, in EnsembleSettings settings, int voice, uint seed)
    {
        var random = new Noise(seed);
        int sampleRate = track.SampleRate;
        double spread = settings.Voices == 1 ? 0 : 2.0 * voice / (settings.Voices - 1) - 1;
        double hertz = Pitch.Frequency(note.Key + settings.DetuneCents / 100 * (spread + 0.3 * random.Next()));
        double start = note.Start + (settings.VibratoCents > 0 ? random.Between(0, 0.035) : 0);
        int first = Math.Max(0, (int)(start * sampleRate));
        int held = (int)(note.Seconds * sampleRate);
        int count = Math.Min(track.Frames - first, held + (int)(settings.ReleaseSeconds * sampleRate));
        double pan = settings.Width * Place(voice, settings.Voices);
        double angle = (pan + 1) * Math.PI / 4;
        double share = 0.25 * note.Velocity / Math.Sqrt(settings.Voices);
        float left = (float)(share * Math.Cos(angle));
        float right = (float)(share * Math.Sin(angle));
        float[] wave = WaveTable.Saw.For(hertz * 1.02, sampleRate);
        double vibratoRate = random.Between(4.8, 6.1);
        double vibratoPhase = random.Between(0, 1);
        double rise = 1 - Math.Exp(-3.0 / (settings.AttackSeconds * sampleRate));
        double fall = Math.Pow(10, -3 / (settings.ReleaseSeconds * sampleRate));
        double level = 0;
        double phase = random.Between(0, 1);
        double step = hertz / sampleRate;
        Span<float> l = track.Left.AsSpan(first, Math.Max(0, count));
        Span<float> r = track.Right.AsSpan(first, Math.Max(0, count));
        for (int i = 0; i < l.Length; i++)
        {
            if (i % Interval == 0)
            {
                double seconds = (double)i / sampleRate;
                double depth = settings.VibratoCents * Math.Min(1, seconds / 0.5) / 1200;
                step = hertz / sampleRate * (1 + 0.693 * depth * SineTable.Turn(vibratoPhase + vibratoRate * seconds));
            }

            level = i < held ? level + (1 - level) * rise : level * fall;
            float value = (float)level * WaveTable.At(wave, phase);
            l[i] += left * value;
            r[i] += right * value;
            phase += step;
            phase -= phase >= 1 ? 1 : 0;
        }
    }
}
