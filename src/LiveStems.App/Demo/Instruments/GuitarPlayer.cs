using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Instruments;

/// <summary>Six strings and two hands: a string that is plucked again stops what it sounded before.</summary>
internal static class GuitarPlayer
{
    // Thick strings lose their high partials sooner.
    private static readonly double[] DampingScale = [1.25, 1.15, 1.05, 0.95, 0.9, 0.85];

    public static float[] Play(
        IEnumerable<StringNote> part,
        Groove groove,
        StringSettings settings,
        int frames,
        int sampleRate,
        uint seed,
        bool hasVibrato = false)
    {
        float[] track = new float[frames];
        var model = new PluckedString(sampleRate);
        foreach (IGrouping<int, StringNote> onString in part.GroupBy(note => note.String))
        {
            StringSettings own = settings with { Damping = settings.Damping * DampingScale[onString.Key] };
            StringNote[] notes = [.. onString.OrderBy(note => note.Beat)];
            for (int i = 0; i < notes.Length; i++)
            {
                StringNote note = notes[i];
                PlayedNote played = groove.Play(new ScoreNote(note.Beat, note.Beats, note.Key, note.Velocity));
                double start = played.Start + note.DelayMs / 1000;
                double end = i + 1 < notes.Length ? groove.SecondsAt(notes[i + 1].Beat) : double.MaxValue;
                double held = Math.Max(0.02, Math.Min(played.Seconds, end - start));
                uint noteSeed = Noise.Mix(seed, i * 8 + note.String);
                double detune = 1 + 0.0012 * new Noise(noteSeed).Bell();
                double hertz = Pitch.Frequency(note.Key) * detune;
                Func<double, double>? bend = hasVibrato && held > 0.45 ? Vibrato : null;
                model.Pluck(Strike.From(track, start, sampleRate), held, hertz, played.Velocity, own, noteSeed, bend);
            }
        }

        return track;
    }

    // The finger pushes the string up a little before the sway begins.
    private static double Vibrato(double seconds)
    {
        double depth = 0.007 * Math.Clamp((seconds - 0.22) / 0.35, 0, 1);
        return 1 - 0.012 * Math.Exp(-seconds / 0.04) + depth * SineTable.Turn(5.3 * seconds);
    }
}
