using LiveStems.Albums.Model;
using LiveStems.App.Demo.Instruments;
using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Songs;

/// <summary>What the scripts of all songs share: the clock, the players and the way out of the studio.</summary>
internal abstract class SongScript(SongForm form, int sampleRate, uint seed)
{
    private readonly List<DemoStem> stems = [];

    protected SongForm Form { get; } = form;

    protected int SampleRate { get; } = sampleRate;

    protected uint Seed { get; } = seed;

    protected int Frames { get; } = (int)Math.Ceiling(form.Seconds * sampleRate);

    protected IReadOnlyList<DemoStem> Stems => stems;

    protected void AddStem(string name, StemRole role, double gainDb, Func<StereoTrack> render) =>
        stems.Add(new DemoStem(stems.Count + 1, name, role, isMono: false, () =>
        {
            StereoTrack track = render().Gain(gainDb);
            FadeOut(track.Left);
            FadeOut(track.Right);
            return [track.Left, track.Right];
        }));

    protected void AddMonoStem(string name, StemRole role, double gainDb, Func<float[]> render) =>
        stems.Add(new DemoStem(stems.Count + 1, name, role, isMono: true, () =>
        {
            float[] track = render();
            Samples.Scale(track, (float)Dsp.Decibels.ToAmplitude(gainDb));
            FadeOut(track);
            return [track];
        }));

    protected StereoTrack Blank() => new(Frames, SampleRate);

    protected float[] BlankMono() => new float[Frames];

    /// <summary>How hard the song is played at a moment: the intensity of the section, softened over its edges.</summary>
    protected double Force(double seconds)
    {
        double beat = (seconds - SongForm.LeadInSeconds) * Form.Tempo / 60;
        return 0.55 + 0.45 * Form.SectionAt(Math.Max(0, beat + 0.25)).Intensity;
    }

    /// <summary>1 inside the named sections, 0 outside.</summary>
    protected Func<double, double> Inside(params string[] sections)
    {
        (double Start, double End)[] spans = [.. sections.Select(name => (Form.StartOf(name), Form.EndOf(name)))];
        return seconds => spans.Any(span => seconds >= span.Start && seconds < span.End) ? 1 : 0;
    }

    /// <summary>A fault from the start of a section to its end or to the end of a later one.</summary>
    protected DemoFault During(string stem, string text, double lowHz, double highHz, string first, string? last = null) =>
        new(stem, text, lowHz, highHz, Form.StartOf(first), Form.EndOf(last ?? first));

    /// <summary>A fault from the first frame to the last.</summary>
    protected DemoFault Throughout(string stem, string text, double lowHz, double highHz) =>
        new(stem, text, lowHz, highHz, 0, Form.Seconds);

    /// <summary>1 while notes at or below a key sound, 0 otherwise.</summary>
    protected static Func<double, double> LowNotes(IEnumerable<SungNote> line, Groove groove, int highestKey)
    {
        (double Start, double End)[] spans =
        [
            .. line.Where(note => note.Key <= highestKey)
                .Select(note => (groove.Form.SecondsAt(note.Beat) - 0.05, groove.Form.SecondsAt(note.Beat + note.Beats))),
        ];
        return seconds => spans.Any(span => seconds >= span.Start && seconds < span.End) ? 1 : 0;
    }

    /// <summary>Several singers, each with a pan, into one picture.</summary>
    protected StereoTrack Choir(params ReadOnlySpan<(IEnumerable<SungNote> Line, SingerProfile Profile, double Pan)> singers)
    {
        StereoTrack track = Blank();
        foreach ((IEnumerable<SungNote> line, SingerProfile profile, double pan) in singers)
        {
            var groove = new Groove(Form, 1, 0.5, 8, 9, profile.Seed);
            SungNote[] notes = [.. line.OrderBy(note => note.Beat)];
            track.Add(Singer.Sing(notes, groove, profile, Force, Frames, SampleRate), 0, pan);
        }

        return track;
    }

    // Nothing stops dead at the end of a file.
    private void FadeOut(float[] samples)
    {
        int fade = (int)(0.8 * SampleRate);
        for (int i = 0; i < fade; i++)
        {
            samples[^(i + 1)] *= (float)i / fade;
        }
    }
}
