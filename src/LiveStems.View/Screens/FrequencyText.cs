namespace LiveStems.View.Screens;

/// <summary>Frequencies and levels as people write them.</summary>
internal static class FrequencyText
{
    /// <summary>"63 Hz", "1.25 kHz".</summary>
    public static string Of(double hertz) => hertz >= 1000 ? $"{hertz / 1000:0.00} kHz" : hertz >= 100 ? $"{hertz:0} Hz" : $"{hertz:0.0} Hz";

    /// <summary>"1/3 oct", "1 oct", "2.5 oct".</summary>
    public static string OfOctaves(double octaves)
    {
        foreach (int part in new[] { 12, 6, 3, 2 })
        {
            if (Math.Abs(octaves * part - 1) < 0.02)
            {
                return $"1/{part} oct";
            }
        }

        return $"{octaves:0.##} oct";
    }

    /// <summary>"1/3 octave", "1 octave", "2.5 octaves".</summary>
    public static string OfWidth(double octaves)
    {
        string words = OfOctaves(octaves).Replace("oct", "octave", StringComparison.Ordinal);
        return words.Contains('/', StringComparison.Ordinal) || words == "1 octave" ? words : $"{words}s";
    }

    /// <summary>"−12.3 dB", with a dash for silence.</summary>
    public static string OfDb(double decibels, string unit = "dB", int digits = 1) => double.IsFinite(decibels)
        ? $"{(Math.Round(decibels, digits) + 0.0).ToString(digits == 0 ? "0" : "0.0").Replace('-', '−')} {unit}"
        : $"– {unit}";
}
