using System.Globalization;

namespace LiveStems.App.Demo.Score;

/// <summary>A syllable as written: place, length, key, the word as it is spelt and the sounds it is sung with.</summary>
internal readonly record struct SungNote(double Beat, double Beats, double Key, string Word, string Sounds)
{
    /// <summary>True when the vowel of the note before is carried on to a new pitch.</summary>
    public bool IsTied => Sounds == "_";
}

/// <summary>
/// Melodies as text: notes parted by '|', each "PITCH BEATS", or "- BEATS" for a rest; beats may be fractions. A sung note
/// goes on with its word and its sounds, one letter each, after X-SAMPA (see <c>Phonemes</c>); '_' carries the vowel on.
/// </summary>
internal static class SungLine
{
    public static List<SungNote> Parse(double beat, string text, int transpose = 0)
    {
        var notes = new List<SungNote>();
        foreach (string item in text.Split('|', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            string[] fields = item.Split(' ', StringSplitOptions.RemoveEmptyEntries);
            double beats = Beats(fields[1]);
            if (fields[0] != "-")
            {
                string word = fields.Length > 2 ? fields[2] : "";
                notes.Add(new SungNote(beat, beats, Pitch.Parse(fields[0]) + transpose, word, fields[^1]));
            }

            beat += beats;
        }

        return notes;
    }

    /// <summary>A melody for an instrument.</summary>
    public static IEnumerable<ScoreNote> Melody(double beat, string text, double velocity) =>
        Parse(beat, text).Select(note => new ScoreNote(note.Beat, note.Beats, note.Key, velocity));

    private static double Beats(string text)
    {
        string[] parts = text.Split('/');
        double value = double.Parse(parts[0], CultureInfo.InvariantCulture);
        return parts.Length == 1 ? value : value / double.Parse(parts[1], CultureInfo.InvariantCulture);
    }
}
