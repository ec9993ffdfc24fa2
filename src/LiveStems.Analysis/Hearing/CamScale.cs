namespace LiveStems.Analysis.Hearing;

/// <summary>
/// The ERB-number scale: how many equivalent rectangular bandwidths of hearing lie below a frequency. B. R. Glasberg and
/// B. C. J. Moore, Hearing Research 47 (1990): E = 21.4 log10(4.37 F + 1) Cam, F in kHz; of the three roundings in use, this
/// is the printed one.
/// </summary>
public static class CamScale
{
    private const double CamPerDecade = 21.4;
    private const double PerHz = 4.37e-3;

    /// <summary>ERB-number of a frequency in Hz from 0.</summary>
    public static double FromHz(double frequencyHz) => CamPerDecade * Math.Log10(1 + PerHz * frequencyHz);

    /// <summary>Frequency in Hz of an ERB-number.</summary>
    public static double ToHz(double cam) => (Math.Pow(10, cam / CamPerDecade) - 1) / PerHz;
}
