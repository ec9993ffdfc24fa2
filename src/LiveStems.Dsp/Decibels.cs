namespace LiveStems.Dsp;

/// <summary>Amplitude ratios and decibels: 20 log10 of an amplitude ratio, 10 log10 of a power ratio.</summary>
public static class Decibels
{
    /// <summary>Decibels of an amplitude ratio; −∞ for 0.</summary>
    public static double FromAmplitude(double ratio) => 20 * Math.Log10(ratio);

    /// <summary>Decibels of a power ratio; −∞ for 0.</summary>
    public static double FromPower(double ratio) => 10 * Math.Log10(ratio);

    /// <summary>Amplitude ratio of a level in decibels.</summary>
    public static double ToAmplitude(double decibels) => Math.Pow(10, decibels / 20);

    /// <summary>Power ratio of a level in decibels.</summary>
    public static double ToPower(double decibels) => Math.Pow(10, decibels / 10);
}
