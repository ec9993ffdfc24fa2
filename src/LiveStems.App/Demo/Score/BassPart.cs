namespace LiveStems.App.Demo.Score;

/// <summary>Bass lines from chords and step patterns.</summary>
internal static class BassPart
{
    private const int Lowest = 28;

    /// <summary>
    /// 'r' the bass of the chord, 'R' the same with weight, '5' its fifth, '8' its octave, '7' its seventh or sixth, 'n' a
    /// step towards the next chord, '/' a rest; each note lasts until the next mark.
    /// </summary>
    public static IEnumerable<ScoreNote> Write(SongForm form, string sectionName, params string[] patterns)
    {
        Section section = form[sectionName];
        double force = 0.6 + 0.4 * section.Intensity;
        (double Beat, char Mark)[] steps =
        [
            .. Enumerable.Range(0, section.Bars).SelectMany(
                bar => StepPattern.Hits(patterns[bar % patterns.Length], (section.FirstBar + bar) * SongForm.BeatsPerBar)),
        ];
        double sectionEnd = (section.FirstBar + section.Bars) * SongForm.BeatsPerBar;
        for (int i = 0; i < steps.Length; i++)
        {
            (double beat, char mark) = steps[i];
            if (mark == '/')
            {
                continue;
            }

            double end = i + 1 < steps.Length ? steps[i + 1].Beat : sectionEnd;
            double velocity = force * (mark == 'R' ? 1 : beat % 1 < 1e-6 ? 0.85 : 0.72);
            yield return new ScoreNote(beat, 0.94 * (end - beat), Key(form, beat, end, mark), velocity);
        }
    }

    private static int Key(SongForm form, double beat, double end, char mark)
    {
        Chord chord = form.ChordAt(beat);
        int root = chord.BassFrom(Lowest);
        return mark switch
        {
            '5' => root + Fifth(chord),
            '8' => root + 12,
            '7' => root + Seventh(chord),
            'n' => Approach(form, root, end),
            _ => root,
        };
    }

    private static int Fifth(Chord chord) => chord.Bass == chord.Root && chord.Intervals.Contains(6) ? 6 : 7;

    private static int Seventh(Chord chord) => chord.Intervals.Contains(11) ? 11 : chord.Intervals.Contains(10) ? 10 : 9;

    // A half-tone below the next bass note, or a whole one where that is in the present chord.
    private static int Approach(SongForm form, int root, double end)
    {
        int next = form.ChordAt(end).BassFrom(Lowest);
        if (next == root)
        {
            return root + 7;
        }

        Chord chord = form.ChordAt(end - 0.01);
        return chord.Has(next - 2) ? next - 2 : next > root ? next - 1 : next + 2;
    }
}
