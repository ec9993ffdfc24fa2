namespace LiveStems.Analysis.Hearing;

/// <summary>Frequencies as musicians name them, in equal temperament with A4 = 440 Hz (ISO 16).</summary>
public static class NoteName
{
    private static readonly string[] Names = ["C", "C♯", "D", "E♭", "E", "F", "F♯", "G", "G♯", "A", "B♭", "B"];

    /// <summary>The nearest note and how many cents the frequency lies beside it: "A4", "C♯5 +23".</summary>
    public static string Of(double frequencyHz)
    {
        double semitones = 69 + 12 * Math.Log2(frequencyHz / 440);
        int nearest = (int)Math.Round(semitones);
        int cents = (int)Math.Round(100 * (semitones - nearest));
        int octave = (int)Math.Floor(nearest / 12.0) - 1;
        string name = $"{Names[(nearest % 12 + 12) % 12]}{octave}";
        return cents == 0 ? name : $"{name} {(cents > 0 ? "+" : "−")}{Math.Abs(cents)}";
    }
}
