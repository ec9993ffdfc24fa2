namespace LiveStems.App.Demo.Score;

/// <summary>One string plucked: strings count from 0, the lowest; a strum reaches later strings a little later.</summary>
internal readonly record struct StringNote(int String, double Beat, double Beats, double Key, double Velocity, double DelayMs);

/// <summary>Turns chords and step patterns into plucked strings.</summary>
internal static class GuitarPart
{
    private const double MillisecondsPerString = 7;

    /// <summary>
    /// Strums: 'D' and 'U' loud down and up, 'd' and 'u' soft, 'm' damped. Each rings until the next strum.
    /// </summary>
    public static IEnumerable<StringNote> Strum(
        SongForm form, string sectionName, Func<Chord, int?[]> shape, params string[] patterns)
    {
        Section section = form[sectionName];
        double force = 0.6 + 0.4 * section.Intensity;
        (double Beat, char Mark)[] hits = Hits(section, patterns);
        for (int i = 0; i < hits.Length; i++)
        {
            (double beat, char mark) = hits[i];
            double end = i + 1 < hits.Length ? hits[i + 1].Beat : (section.FirstBar + section.Bars) * SongForm.BeatsPerBar;
            int?[] keys = shape(form.ChordAt(beat));
            int[] sounding = [.. Enumerable.Range(0, keys.Length).Where(index => keys[index] is not null)];
            bool up = mark is 'U' or 'u';
            IEnumerable<int> order = up ? sounding.Reverse().Take(4) : sounding;
            double velocity = force * (mark is 'D' or 'U' ? 0.9 : mark == 'm' ? 0.5 : 0.6) * (up ? 0.85 : 1);
            double beats = mark == 'm' ? Math.Min(0.08, end - beat) : end - beat;
            int place = 0;
            foreach (int index in order)
            {
                double delay = place++ * MillisecondsPerString * (1.3 - 0.6 * velocity);
                yield return new StringNote(index, beat, beats, keys[index]!.Value, velocity * (1 - 0.04 * place), delay);
            }
        }
    }

    /// <summary>Picking: 'b' the lowest sounding string, '1' the highest to '6' the lowest string; each rings on.</summary>
    public static IEnumerable<StringNote> Pick(SongForm form, string sectionName, Func<Chord, int?[]> shape, params string[] patterns)
    {
        Section section = form[sectionName];
        double force = 0.6 + 0.4 * section.Intensity;
        foreach ((double beat, char mark) in Hits(section, patterns))
        {
            int?[] keys = shape(form.ChordAt(beat));
            int index = mark == 'b' ? Array.FindIndex(keys, key => key is not null) : 6 - (mark - '0');
            if (keys[index] is int key)
            {
                double accent = beat % 1 < 1e-6 ? 0.8 : 0.66;
                yield return new StringNote(index, beat, 4, key, force * accent, 0);
            }
        }
    }

    /// <summary>A single note on the highest string that reaches it.</summary>
    public static StringNote OnString(in ScoreNote note)
    {
        ReadOnlySpan<int> open = Fretboard.OpenKeys;
        int index = open.Length - 1;
        while (index > 0 && open[index] > note.Key)
        {
            index--;
        }

        return new StringNote(index, note.Beat, note.Beats, note.Key, note.Velocity, 0);
    }

    private static (double Beat, char Mark)[] Hits(Section section, string[] patterns) =>
    [
        .. Enumerable.Range(0, section.Bars)
            .SelectMany(bar => StepPattern.Hits(patterns[bar % patterns.Length], (section.FirstBar + bar) * SongForm.BeatsPerBar)),
    ];
}
