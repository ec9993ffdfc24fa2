using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Instruments;

/// <summary>One sound with its place in time.</summary>
/// <param name="Start">Seconds from the start of the file.</param>
/// <param name="End">Seconds from the start of the file.</param>
/// <param name="Sound">What is formed.</param>
/// <param name="Key">Pitch of its note.</param>
/// <param name="NoteStart">When its note's vowel begins.</param>
/// <param name="BeginsPhrase">True for the sounds of a note after a rest.</param>
internal readonly record struct SoundSpan(
    double Start, double End, Sound Sound, double Key, double NoteStart, bool BeginsPhrase);

/// <summary>
/// Lays the sounds of sung notes on the time axis: a vowel begins on its beat, consonants before it take their time from
/// the note before, those after it come just before the end.
/// </summary>
internal static class VoiceTimeline
{
    private const double RestSeconds = 0.30;

    public static List<SoundSpan> Lay(IReadOnlyList<SungNote> notes, Groove groove)
    {
        var spans = new List<SoundSpan>();
        PlayedNote[] played = [.. notes.Select(note => groove.Play(new ScoreNote(note.Beat, note.Beats, note.Key, 0.8)))];
        (string Onset, string Vowels, string Coda)[] syllables = Syllables(notes);
        double lastEnd = 0;
        for (int i = 0; i < notes.Count; i++)
        {
            (string onset, string vowels, string coda) = syllables[i];
            double start = played[i].Start;
            double end = start + played[i].Seconds;
            if (i + 1 < notes.Count)
            {
                double free = played[i + 1].Start - Length(syllables[i + 1].Onset);
                end = free - end < 0.05 ? free : end;
            }

            bool begins = start - lastEnd > RestSeconds;
            double at = start - Length(onset);
            foreach (char letter in onset)
            {
                at = Add(spans, at, Phonemes.Of(letter), notes[i].Key, start, begins);
            }

            double codaLength = Math.Min(Length(coda), 0.45 * (end - start));
            double squeeze = coda.Length == 0 ? 1 : codaLength / Length(coda);
            double vowelEnd = end - codaLength;
            AddVowels(spans, vowels, start, vowelEnd, notes[i].Key, begins);
            at = vowelEnd;
            foreach (char letter in coda)
            {
                Sound sound = Phonemes.Of(letter);
                at = Add(spans, at, sound with { Seconds = sound.Seconds * squeeze }, notes[i].Key, start, begins);
            }

            lastEnd = end;
        }

        return spans;
    }

    // A vowel carried on over several pitches keeps its second half and the consonants after it for the last of them.
    private static (string Onset, string Vowels, string Coda)[] Syllables(IReadOnlyList<SungNote> notes)
    {
        var syllables = new (string Onset, string Vowels, string Coda)[notes.Count];
        (string Onset, string Vowels, string Coda) whole = ("", "", "");
        for (int i = 0; i < notes.Count; i++)
        {
            whole = notes[i].IsTied ? whole with { Onset = "" } : Split(notes[i].Sounds);
            bool goesOn = i + 1 < notes.Count && notes[i + 1].IsTied;
            syllables[i] = goesOn ? (whole.Onset, whole.Vowels[..1], "") : whole;
        }

        return syllables;
    }

    // Of two vowels the first is held and the second closes.
    private static void AddVowels(List<SoundSpan> spans, string vowels, double start, double end, double key, bool begins)
    {
        double turn = vowels.Length == 1 ? end : Math.Max(start + 0.5 * (end - start), end - 0.16);
        spans.Add(new SoundSpan(start, turn, Phonemes.Of(vowels[0]), key, start, begins));
        if (vowels.Length > 1)
        {
            spans.Add(new SoundSpan(turn, end, Phonemes.Of(vowels[1]), key, start, begins));
        }
    }

    private static double Add(List<SoundSpan> spans, double at, Sound sound, double key, double noteStart, bool begins)
    {
        spans.Add(new SoundSpan(at, at + sound.Seconds, sound, key, noteStart, begins));
        return at + sound.Seconds;
    }

    private static double Length(string consonants) => consonants.Sum(letter => Phonemes.Of(letter).Seconds);

    private static (string Onset, string Vowels, string Coda) Split(string sounds)
    {
        int first = 0;
        while (!Phonemes.Of(sounds[first]).IsVowel)
        {
            first++;
        }

        int last = first;
        while (last < sounds.Length && Phonemes.Of(sounds[last]).IsVowel)
        {
            last++;
        }

        return (sounds[..first], sounds[first..last], sounds[last..]);
    }
}
