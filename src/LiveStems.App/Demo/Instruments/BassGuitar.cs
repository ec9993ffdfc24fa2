using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Instruments;

/// <summary>A bass guitar.</summary>
/// <param name="String">Its strings.</param>
/// <param name="ClickDb">Loudness of the pick against the string; the string alone at −60.</param>
/// <param name="ClickHertz">Centre of the click.</param>
/// <param name="DriveDb">Gain into the amplifier.</param>
/// <param name="ToneHertz">Where the loudspeaker stops.</param>
internal sealed record BassSettings(StringSettings String, double ClickDb, double ClickHertz, double DriveDb, double ToneHertz);

internal static class BassGuitar
{
    public static float[] Play(
        IEnumerable<ScoreNote> part, Groove groove, BassSettings settings, int frames, int sampleRate, uint seed)
    {
        float[] track = new float[frames];
        float[] clicks = new float[frames];
        var model = new PluckedString(sampleRate);
        double click = Dsp.Decibels.ToAmplitude(settings.ClickDb);
        PlayedNote[] notes = [.. part.OrderBy(note => note.Beat).Select(note => groove.Play(note))];
        for (int i = 0; i < notes.Length; i++)
        {
            PlayedNote note = notes[i];
            double next = i + 1 < notes.Length ? notes[i + 1].Start - note.Start : double.MaxValue;
            double held = Math.Min(note.Seconds, next);
            uint noteSeed = Noise.Mix(seed, i);
            model.Pluck(
                Strike.From(track, note.Start, sampleRate), held, Pitch.Frequency(note.Key), note.Velocity, settings.String, noteSeed);
            Strike.AddNoise(
                Strike.From(clicks, note.Start - 0.001, sampleRate),
                sampleRate,
                noteSeed,
                Biquad.BandPass(settings.ClickHertz, 2.2, sampleRate),
                click * note.Velocity,
                0.1,
                9);
        }

        Biquad.Process(Biquad.HighPass(30, 0.7, sampleRate), track);
        Saturator.Process(track, settings.DriveDb, 0.15);
        Biquad.Process(Biquad.Bell(90, 0.8, 2.5, sampleRate), track);
        Biquad.Process(Biquad.Bell(320, 0.9, -2, sampleRate), track);
        Biquad.Process(Biquad.LowPass(settings.ToneHertz, 0.7, sampleRate), track);
        BusCompressor.Process(track, track, sampleRate, -16, 2.5, 20, 140);
        Samples.AddScaled(track, clicks, 1);
        return track;
    }
}
