using System.Globalization;

namespace LiveStems.App.Demo.Score;

/// <summary>Pitches as key numbers: C4 is 60, A4 is 69 and 440 Hz, equal temperament.</summary>
internal static class Pitch
{
    /// <summary>Reads "C4", "F#3", "Bb4".</summary>
    public static int Parse(string name)
    {
        int letters = name.Length > 1 && name[1] is '#' or 'b' ? 2 : 1;
        int octave = int.Parse(name.AsSpan(letters), CultureInfo.InvariantCulture);
        return 12 * (octave + 1) + Class(name[..letters]);
    }

    /// <summary>Half-tones above C of "C", "F#", "Bb"; "Cb" is −1 and "B#" 12, so that octaves stay as written.</summary>
    public static int Class(string name)
    {
        int natural = name[0] switch
        {
            'C' => 0,
            'D' => 2,
            'E' => 4,
            'F' => 5,
            'G' => 7,
            'A' => 9,
            'B' => 11,
            _ => throw new FormatException($"no pitch: {name}"),
        };
        return natural + (name.Length == 1 ? 0 : name[1] == '#' ? 1 : -1);
    }

    public static double Frequency(double key) => 440 * Math.Pow(2, (key - 69) / 12);
}
