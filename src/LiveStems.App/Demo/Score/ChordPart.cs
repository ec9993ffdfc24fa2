namespace LiveStems.App.Demo.Score;

/// <summary>Chords for keyboards, pads, strings and groups of voices, with voice leading over the whole song.</summary>
internal sealed class ChordPart(SongForm form, int voices, int low, int high)
{
    private readonly List<(ChordSpan Span, int[] Keys)> arranged = VoiceLeading.Arrange(form.Chords, voices, low, high);

    /// <summary>Every chord held for its length; a key that the next chord has too is not struck again.</summary>
    public IEnumerable<ScoreNote> Held(string sectionName, double velocity)
    {
        Section section = form[sectionName];
        (ChordSpan Span, int[] Keys)[] chords = [.. arranged.Where(item => section.Chords.Contains(item.Span))];
        double force = velocity * (0.55 + 0.45 * section.Intensity);
        for (int i = 0; i < chords.Length; i++)
        {
            foreach (int key in chords[i].Keys)
            {
                if (i > 0 && chords[i - 1].Keys.Contains(key))
                {
                    continue;
                }

                double end = chords[i].Span.Beat;
                for (int later = i; later < chords.Length && chords[later].Keys.Contains(key); later++)
                {
                    end = chords[later].Span.Beat + chords[later].Span.Beats;
                }

                yield return new ScoreNote(chords[i].Span.Beat, end - chords[i].Span.Beat, key, force);
            }
        }
    }

    /// <summary>
    /// Chords in a rhythm, bar patterns in turn: 'X', 'x', '-' and 'g' strike all keys, 't' the top two, 'b' the lowest
    /// two; each sounds for a share of the time to the next.
    /// </summary>
    public IEnumerable<ScoreNote> Rhythm(string sectionName, double velocity, double share, params string[] patterns)
    {
        Section section = form[sectionName];
        double force = velocity * (0.55 + 0.45 * section.Intensity);
        (double Beat, char Mark)[] hits =
        [
            .. Enumerable.Range(0, section.Bars).SelectMany(
                bar => StepPattern.Hits(patterns[bar % patterns.Length], (section.FirstBar + bar) * SongForm.BeatsPerBar)),
        ];
        double sectionEnd = (section.FirstBar + section.Bars) * SongForm.BeatsPerBar;
        for (int i = 0; i < hits.Length; i++)
        {
            (double beat, char mark) = hits[i];
            double end = i + 1 < hits.Length ? hits[i + 1].Beat : sectionEnd;
            int[] keys = KeysAt(beat);
            IEnumerable<int> struck = mark == 't' ? keys[^2..] : mark == 'b' ? keys[..2] : keys;
            foreach (int key in struck)
            {
                yield return new ScoreNote(beat, share * (end - beat), key, force * StepPattern.Velocity(mark));
            }
        }
    }

    /// <summary>
    /// The line of one voice, 0 the lowest: one note to a chord on one sound, slurred over two bars, then a new breath.
    /// </summary>
    public IEnumerable<SungNote> Voice(string sectionName, int voice, string sounds)
    {
        const double Slur = 2 * SongForm.BeatsPerBar;
        Section section = form[sectionName];
        double first = section.FirstBar * SongForm.BeatsPerBar;
        foreach ((ChordSpan span, int[] keys) in arranged.Where(item => section.Chords.Contains(item.Span)))
        {
            bool begins = (span.Beat - first) % Slur < 1e-6;
            bool ends = (span.Beat + span.Beats - first) % Slur < 1e-6;
            string now = begins ? sounds : "_";
            yield return new SungNote(span.Beat, ends ? span.Beats - 0.35 : span.Beats, keys[voice], now, now);
        }
    }

    private int[] KeysAt(double beat) => arranged.Last(item => item.Span.Beat <= beat + 1e-9).Keys;
}
