namespace LiveStems.Analysis.Hearing;

/// <summary>
/// Critical-band rate. H. Traunmüller, Journal of the Acoustical Society of America 88 (1990): z = 26.81 f/(1960 + f) − 0.53,
/// with his corrections at both ends; within 0.05 Bark of Zwicker's table from 0.2 to 6.7 kHz.
/// </summary>
public static class BarkScale
{
    /// <summary>Critical-band rate in Bark of a frequency in Hz from 0.</summary>
    public static double FromHz(double frequencyHz)
    {
        double bark = 26.81 * frequencyHz / (1960 + frequencyHz) - 0.53;
        if (bark < 2)
        {
            return bark + 0.15 * (2 - bark);
        }

        return bark > 20.1 ? bark + 0.22 * (bark - 20.1) : bark;
    }
}
