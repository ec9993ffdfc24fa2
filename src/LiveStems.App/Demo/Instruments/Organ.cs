using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Instruments;

/// <summary>An organ with drawbars and a turning loudspeaker.</summary>
internal static class Organ
{
    // Harmonics of a tone an octave below the key: 16, 5 1/3, 8, 4, 2 2/3, 2 feet.
    private static readonly WaveTable Drawbars = new(
        number => (0, number switch
        {
            1 => 0.5,
            2 => 0.9,
            3 => 0.55,
            4 => 0.5,
            6 => 0.22,
            8 => 0.2,
            _ => 0,
        }),
        8);

    public static StereoTrack Play(IEnumerable<ScoreNote> part, Groove groove, int frames, int sampleRate)
    {
        float[] track = new float[frames];
        foreach (ScoreNote note in part)
        {
            AddKey(track, sampleRate, groove.Play(note));
        }

        Biquad.Process(Biquad.HighPass(80, 0.7, sampleRate), track);
        Saturator.Process(track, 9, 0.1);
        Biquad.Process(Biquad.LowPass(5200, 0.7, sampleRate), track);
        StereoTrack turning = Chorus.Spread(track, sampleRate, 0.35, 6.4, 0.8);
        for (int i = 0; i < frames; i++)
        {
            float sway = 0.16f * SineTable.Turn(6.4 * i / sampleRate);
            turning.Left[i] *= 1 + sway;
            turning.Right[i] *= 1 - sway;
        }

        return turning;
    }

    private static void AddKey(float[] track, int sampleRate, in PlayedNote note)
    {
        Span<float> output = Strike.From(track, note.Start, sampleRate);
        double hertz = Pitch.Frequency(note.Key - 12);
        float[] wave = Drawbars.For(hertz, sampleRate);
        double step = hertz / sampleRate;
        int held = (int)(note.Seconds * sampleRate);
        int frames = Math.Min(output.Length, held + sampleRate / 50);
        double share = 1 - Math.Exp(-1 / (0.003 * sampleRate));
        double level = 0;
        double phase = 0.13 * note.Key % 1;
        for (int i = 0; i < frames; i++)
        {
            level += share * ((i < held ? 0.16 * note.Velocity : 0) - level);
            output[i] += (float)(level * WaveTable.At(wave, phase));
            phase += step;
            phase -= phase >= 1 ? 1 : 0;
        }

        Strike.AddNoise(output, sampleRate, (uint)note.Key, Biquad.BandPass(2400, 0.8, sampleRate), 0.05 * note.Velocity, 0.1, 7);
    }
}
