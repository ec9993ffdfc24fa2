namespace LiveStems.View.Desk;

/// <summary>
/// The A-weighting of sound level meters: IEC 61672-1:2013, 5.5.8 with Annex E, whose exact poles are f1 = 20.60 Hz,
/// f2 = 107.7 Hz, f3 = 737.9 Hz, f4 = 12 194 Hz (recalled from memory; its table 3 gives −39.4 dB at 31.5 Hz,
/// −16.1 dB at 125 Hz, 0 dB at 1 kHz, −1.1 dB at 8 kHz).
/// </summary>
public static class AWeighting
{
    private const double F1 = 20.598997;
    private const double F2 = 107.65265;
    private const double F3 = 737.86223;
    private const double F4 = 12194.217;

    private static readonly double At1000 = Unscaled(1000);

    /// <summary>Gain in power at a frequency in Hz: 1 at 1 kHz.</summary>
    public static double PowerGain(double frequencyHz) => Unscaled(frequencyHz) / At1000;

    /// <summary>Gain in decibels at a frequency in Hz: 0 at 1 kHz.</summary>
    public static double GainDb(double frequencyHz) => 10 * Math.Log10(PowerGain(frequencyHz));

    private static double Unscaled(double frequencyHz)
    {
        double f2 = frequencyHz * frequencyHz;
        double response = F4 * F4 * f2 * f2 / ((f2 + F1 * F1) * Math.Sqrt((f2 + F2 * F2) * (f2 + F3 * F3)) * (f2 + F4 * F4));
        return response * response;
    }
}
