using System.Globalization;

namespace LiveStems.Analysis.Trouble;

/// <summary>Which correction fits a finding, with values to start from.</summary>
internal static class CorrectionAdvice
{
    private const double DeepestCutDb = 9;

    /// <summary>A static bell for what is always there.</summary>
    public static SuggestedCorrection Bell(double centreHz, double widthOctaves, double cutDb, string words) => Of(
        "equaliser",
        words,
        ("band1.on", "off"),
        ("band2.on", "on"),
        ("band2.shape", "bell"),
        ("band2.frequencyHz", Hz(centreHz)),
        ("band2.gainDb", Db(-Math.Min(cutDb, DeepestCutDb))),
        ("band2.q", Number(QOf(widthOctaves), 2)));

    /// <summary>A resonance suppressor held to the range, for what comes and goes.</summary>
    public static SuggestedCorrection Suppressor(double centreHz, double widthOctaves, double surplusDb, string words)
    {
        double reach = Math.Max(0.25, widthOctaves);
        return Of(
            "resonance-suppressor",
            words,
            ("depthPercent", "80 %"),
            ("selectivityDb", Db(Math.Clamp(surplusDb / 2, 2, 6))),
            ("lowHz", Hz(Math.Clamp(centreHz * Math.Pow(2, -reach), 20, 20_000))),
            ("highHz", Hz(Math.Clamp(centreHz * Math.Pow(2, reach), 20, 20_000))),
            ("deepestCutDb", Db(Math.Clamp(Math.Ceiling(surplusDb), 3, 15))));
    }

    public static SuggestedCorrection DeEsser(double lowHz, double relativeDb, double excessDb) => Of(
        "de-esser",
        "takes down sharp sounds beside the voice's own level and leaves the vowels alone",
        ("frequencyHz", Hz(Math.Clamp(lowHz, 2000, 12_000))),
        ("thresholdDb", Db(Math.Clamp(relativeDb - excessDb, -40, 12))),
        ("rangeDb", Db(Math.Clamp(Math.Ceiling(excessDb), 3, 10))));

    public static SuggestedCorrection HighPass(double cornerHz, string words) => Of(
        "equaliser",
        words,
        ("band1.on", "on"),
        ("band1.shape", "high-pass"),
        ("band1.frequencyHz", Hz(cornerHz)),
        ("band1.slopeDbPerOctave", "24 dB/oct"));

    public static SuggestedCorrection LowPass(double cornerHz, string words) => Of(
        "equaliser",
        words,
        ("band1.on", "off"),
        ("band2.on", "on"),
        ("band2.shape", "low-pass"),
        ("band2.frequencyHz", Hz(cornerHz)),
        ("band2.slopeDbPerOctave", "24 dB/oct"));

    /// <summary>Notches on a hum's lines.</summary>
    public static SuggestedCorrection Notches(IReadOnlyList<double> linesHz)
    {
        List<(string, string)> settings = [("band1.on", "off")];
        for (int line = 0; line < Math.Min(linesHz.Count, 8); line++)
        {
            string band = $"band{line + 2}";
            settings.AddRange(
            [
                ($"{band}.on", "on"),
                ($"{band}.shape", "notch"),
                ($"{band}.frequencyHz", Hz(linesHz[line])),
                ($"{band}.q", "30"),
            ]);
        }

        return Of("equaliser", "cuts the hum's lines and leaves what lies between", [.. settings]);
    }

    /// <summary>A dynamic bell that acts while the range is louder than it is over the last seconds.</summary>
    public static SuggestedCorrection DynamicBell(double centreHz, double widthOctaves, double cutDb, string words) => Of(
        "equaliser",
        words,
        ("band1.on", "off"),
        ("band2.on", "on"),
        ("band2.shape", "bell"),
        ("band2.frequencyHz", Hz(centreHz)),
        ("band2.q", Number(QOf(widthOctaves), 2)),
        ("band2.dynamic", "on"),
        ("band2.thresholdReference", "long-term"),
        ("band2.thresholdDb", "0 dB"),
        ("band2.ratio", "3:1"),
        ("band2.rangeDb", Db(-Math.Min(cutDb, DeepestCutDb))));

    // The Q of a bell whose half-gain points lie so far apart: R. Bristow-Johnson, Audio EQ Cookbook, 1/Q = 2 sinh(ln 2/2 · width).
    private static double QOf(double widthOctaves) => Math.Clamp(1 / (2 * Math.Sinh(Math.Log(2) / 2 * widthOctaves)), 0.3, 30);

    private static SuggestedCorrection Of(string processor, string words, params (string Id, string Value)[] settings) =>
        new(processor, [.. settings.Select(setting => KeyValuePair.Create(setting.Id, setting.Value))], words);

    private static string Hz(double hz) => hz >= 1000 ? $"{Number(hz / 1000, 3)} kHz" : $"{Number(hz, 1)} Hz";

    private static string Db(double db) => $"{Number(db, 1)} dB";

    private static string Number(double value, int decimals) => Math.Round(value, decimals).ToString("0.###", CultureInfo.InvariantCulture);
}
