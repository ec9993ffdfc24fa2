namespace LiveStems.View.Screens;

/// <summary>Frequencies as notes: equal temperament, A4 at 440 Hz (ISO 16).</summary>
internal static class NoteName
{
    private const double A4Hz = 440;
    private const int A4Number = 69;

    // The painter writes plain letters where the system's font has no signs of music.
    private static readonly string[] Names = ["C", "C♯", "D", "E♭", "E", "F", "F♯", "G", "A♭", "A", "B♭", "B"];

    /// <summary>The nearest note and how far the frequency lies from it: "E2 +14 ct".</summary>
    public static string Of(double frequencyHz)
    {
        double number = A4Number + 12 * Math.Log2(frequencyHz / A4Hz);
        int nearest = (int)Math.Round(number);
        int cents = (int)Math.Round((number - nearest) * 100);
        string off = cents == 0 ? string.Empty : $" {(cents > 0 ? "+" : "−")}{Math.Abs(cents)} ct";
        return $"{Names[((nearest % 12) + 12) % 12]}{(int)Math.Floor(nearest / 12.0) - 1}{off}";
    }

    /// <summary>Frequency of the C of an octave.</summary>
    public static double OfC(int octave) => A4Hz * Math.Pow(2, ((octave + 1) * 12 - A4Number) / 12.0);
}
