namespace LiveStems.Dsp.Spectral;

/// <summary>
/// The equivalent rectangular bandwidth of hearing: B. R. Glasberg and B. C. J. Moore, Hearing Research 47 (1990),
/// ERB = 24.7 · (4.37 F + 1) Hz with F in kHz.
/// </summary>
public static class ErbScale
{
    /// <summary>Bandwidth around a frequency, both in Hz.</summary>
    public static double BandwidthHz(double frequencyHz) => 24.7 * (4.37e-3 * frequencyHz + 1);
}
