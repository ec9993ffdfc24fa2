namespace LiveStems.Analysis.Hearing;

/// <summary>
/// Normal equal-loudness-level contours, ISO 226:2023, clause 4 and table 1.
/// </summary>
/// <remarks>
/// <para>
/// The standard holds for pure tones from 20 to 90 phon (to 80 phon above 4 kHz) at the third octaves from 20 Hz to
/// 12.5 kHz. Between them the three parameters are interpolated in a straight line over the logarithm of frequency. Below
/// and above, those of the end are held, and above 12.5 kHz the contours rise further as the absolute threshold does
/// (E. Terhardt, Hearing Research 1 (1979)).
/// </para>
/// <para>The 2003 edition differs by at most 0.3 dB between 20 and 80 phon.</para>
/// </remarks>
public static class EqualLoudness
{
    private const double HighestTableHz = 12_500;
    private const double ReferenceExponent = 0.3;

    // (4·10⁻¹⁰) is the squared threshold pressure over 1 Pa²; 10^0.072 is the loudness of the threshold at 1 kHz.
    private const double ReferencePower = 4e-10;

    private static readonly double ThresholdTerm = Math.Pow(10, 0.072);

    private static readonly double[] FrequencyHz =
    [
        20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000,
        6300, 8000, 10_000, 12_500,
    ];

    private static readonly double[] Exponent =
    [
        0.635, 0.602, 0.569, 0.537, 0.509, 0.482, 0.456, 0.433, 0.412, 0.391, 0.373, 0.357, 0.343, 0.330, 0.320, 0.311, 0.303, 0.300,
        0.295, 0.292, 0.290, 0.290, 0.289, 0.289, 0.289, 0.293, 0.303, 0.323, 0.354,
    ];

    private static readonly double[] TransferDb =
    [
        -31.5, -27.2, -23.1, -19.3, -16.1, -13.1, -10.4, -8.2, -6.3, -4.6, -3.2, -2.1, -1.2, -0.5, 0.0, 0.4, 0.5, 0.0, -2.7, -4.2,
        -1.2, 1.4, 2.3, 1.0, -2.3, -7.2, -11.2, -10.9, -3.5,
    ];

    private static readonly double[] ThresholdDb =
    [
        78.1, 68.7, 59.5, 51.1, 44.0, 37.5, 31.5, 26.5, 22.1, 17.9, 14.4, 11.4, 8.6, 6.2, 4.4, 3.0, 2.2, 2.4, 3.5, 1.7, -1.3, -4.2,
        -6.0, -5.4, -1.5, 6.0, 12.6, 13.9, 12.3,
    ];

    /// <summary>Sound pressure level in dB of a tone that is as loud as a 1 kHz tone of so many dB.</summary>
    public static double LevelDb(double phon, double frequencyHz)
    {
        Parameters at = At(frequencyHz);
        double inner = at.Scale * (Math.Pow(10, 0.03 * phon) - ThresholdTerm) + at.ThresholdPower;
        return 10 / at.Exponent * Math.Log10(inner) - at.TransferDb + at.BeyondDb;
    }

    /// <summary>
    /// Loudness level in phon of a tone of a sound pressure level in dB; 2.4 at the threshold of hearing, below which it stays.
    /// </summary>
    public static double Phon(double levelDb, double frequencyHz)
    {
        Parameters at = At(frequencyHz);
        double power = Math.Pow(10, at.Exponent * (levelDb - at.BeyondDb + at.TransferDb) / 10);
        double inner = Math.Max(0, power - at.ThresholdPower) / at.Scale + ThresholdTerm;
        return 100.0 / 3 * Math.Log10(inner);
    }

    /// <summary>Threshold of hearing, dB SPL.</summary>
    public static double ThresholdOfHearingDb(double frequencyHz)
    {
        (int row, double share) = Place(frequencyHz);
        return Between(ThresholdDb, row, share) + BeyondTableDb(frequencyHz);
    }

    /// <summary>
    /// Loudness in sone of a loudness level: doubled every 10 phon from 1 sone at 40 (S. S. Stevens), below that
    /// (L/40)^2.642 (E. Zwicker and H. Fastl, Psychoacoustics, section 8.7; from memory).
    /// </summary>
    public static double Sone(double phon) =>
        phon >= 40 ? Math.Pow(2, (phon - 40) / 10) : Math.Pow(Math.Max(0, phon) / 40, 2.642);

    private static Parameters At(double frequencyHz)
    {
        (int row, double share) = Place(frequencyHz);
        double exponent = Between(Exponent, row, share);
        double transfer = Between(TransferDb, row, share);
        double threshold = Between(ThresholdDb, row, share);
        return new Parameters(
            exponent,
            transfer,
            Math.Pow(ReferencePower, ReferenceExponent - exponent),
            Math.Pow(10, exponent * (threshold + transfer) / 10),
            BeyondTableDb(frequencyHz));
    }

    private static (int Row, double Share) Place(double frequencyHz)
    {
        int row = 0;
        while (row < FrequencyHz.Length - 2 && frequencyHz > FrequencyHz[row + 1])
        {
            row++;
        }

        double share = Math.Log(Math.Max(frequencyHz, 1) / FrequencyHz[row]) / Math.Log(FrequencyHz[row + 1] / FrequencyHz[row]);
        return (row, Math.Clamp(share, 0, 1));
    }

    private static double Between(double[] table, int row, double share) => table[row] + share * (table[row + 1] - table[row]);

    private static double BeyondTableDb(double frequencyHz) =>
        frequencyHz <= HighestTableHz ? 0 : Terhardt(frequencyHz) - Terhardt(HighestTableHz);

    private static double Terhardt(double frequencyHz)
    {
        double kHz = frequencyHz / 1000;
        return 3.64 * Math.Pow(kHz, -0.8) - 6.5 * Math.Exp(-0.6 * (kHz - 3.3) * (kHz - 3.3)) + 1e-3 * Math.Pow(kHz, 4);
    }

    private readonly record struct Parameters(double Exponent, double TransferDb, double Scale, double ThresholdPower, double BeyondDb);
}
