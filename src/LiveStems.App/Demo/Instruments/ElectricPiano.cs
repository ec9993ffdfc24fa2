using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Instruments;

/// <summary>
/// An electric piano by frequency modulation (J. Chowning, "The synthesis of complex audio spectra by means of frequency
/// modulation", JAES 21(7), 1973): a body at 1:1 and a tine at 14:1 that dies early.
/// </summary>
internal static class ElectricPiano
{
    public static void Play(Span<float> output, int sampleRate, in PlayedNote note)
    {
        double hertz = Pitch.Frequency(note.Key);
        double ratio = hertz > 700 ? 9 : 14;
        double decay = 5.5 * Math.Pow(2, -(note.Key - 48) / 18);
        int held = (int)(note.Seconds * sampleRate);
        int frames = Math.Min(output.Length, held + sampleRate / 4);
        double step = hertz / sampleRate;
        double body = 0.45 + 2.1 * note.Velocity;
        double tine = (0.15 + 1.1 * note.Velocity) * Math.Min(1, 900 / hertz);
        double level = 0.5 * Math.Pow(note.Velocity, 1.2);
        double bodyKeep = Keep(1.1, sampleRate);
        double tineKeep = Keep(0.35, sampleRate);
        double levelKeep = Keep(decay, sampleRate);
        double release = Keep(0.22, sampleRate);
        double rise = 1 - Math.Exp(-1 / (0.0012 * sampleRate));
        double risen = 0;
        double phase = 0;
        for (int i = 0; i < frames; i++)
        {
            phase += step;
            risen += (1 - risen) * rise;
            float bodyWave = SineTable.Turn(phase + body * 0.159 * SineTable.Turn(phase));
            float tineWave = SineTable.Turn(phase + tine * 0.159 * SineTable.Turn(ratio * phase));
            output[i] += (float)(risen * level * (0.6f * bodyWave + 0.4f * tineWave));
            body *= bodyKeep;
            tine *= tineKeep;
            level *= i < held ? levelKeep : release;
        }
    }

    /// <summary>Plays notes, drives them a little and sways them from side to side.</summary>
    public static StereoTrack Play(
        IEnumerable<ScoreNote> part, Groove groove, int frames, int sampleRate, double swayHertz, double swayDepth)
    {
        float[] track = new float[frames];
        foreach (ScoreNote note in part)
        {
            PlayedNote played = groove.Play(note);
            Play(Strike.From(track, played.Start, sampleRate), sampleRate, played);
        }

        Biquad.Process(Biquad.HighPass(70, 0.7, sampleRate), track);
        Saturator.Process(track, 6, 0.25);
        Biquad.Process(Biquad.Bell(240, 0.8, -3, sampleRate), track);
        Biquad.Process(Biquad.Bell(1900, 0.7, 4, sampleRate), track);
        var stereo = new StereoTrack(frames, sampleRate);
        for (int i = 0; i < frames; i++)
        {
            float sway = (float)swayDepth * SineTable.Turn(swayHertz * i / sampleRate);
            stereo.Left[i] = track[i] * (0.7f + sway);
            stereo.Right[i] = track[i] * (0.7f - sway);
        }

        return stereo;
    }

    private static double Keep(double seconds, int sampleRate) => Math.Pow(10, -3 / (seconds * sampleRate));
}
