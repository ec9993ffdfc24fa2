using LiveStems.Dsp.Spectral;

namespace LiveStems.Analysis.Hearing;

/// <summary>
/// How strongly the places along the inner ear are excited by a sound: its bands one Cam apart, each spread by the auditory
/// filters around it, the farther upwards the louder it is.
/// </summary>
/// <remarks>
/// Rounded-exponential filters of B. C. J. Moore and B. R. Glasberg, Journal of the Acoustical Society of America 74 (1983):
/// W(g) = (1 + p·g)·e^(−p·g) with g the distance over the filter's centre. Their sharpness by level, Glasberg and Moore,
/// Hearing Research 47 (1990), equations 3 to 5: p = 4f/ERB(f) at 51 dB; of the lower side p − 0.35·(p/p(1 kHz))·(X − 51), X the
/// level of the sound in dB (from memory).
/// </remarks>
public sealed class ExcitationPattern
{
    private const double LevelOfEqualSidesDb = 51;
    private const double SharpnessPerDb = 0.35;
    private const double BluntestShare = 0.15;

    private static readonly double SharpnessAt1kHz = 4 * 1000 / ErbScale.BandwidthHz(1000);

    private readonly double[] centreHz;
    private readonly double[] sharpness;

    /// <summary>Bands whose middles lie one Cam apart from <see cref="FirstCam"/> on.</summary>
    /// <param name="bands">How many.</param>
    public ExcitationPattern(int bands)
    {
        centreHz = [.. Enumerable.Range(0, bands).Select(CentreHz)];
        sharpness = [.. centreHz.Select(hz => 4 * hz / ErbScale.BandwidthHz(hz))];
    }

    /// <summary>ERB-number of the first band's middle.</summary>
    public const double FirstCam = 2;

    /// <summary>Middle of a band, Hz.</summary>
    public static double CentreHz(int band) => CamScale.ToHz(FirstCam + band);

    /// <summary>Writes the excitation of each band, as power.</summary>
    /// <param name="power">Power of each band; 1 is 0 dB SPL.</param>
    /// <param name="excitation">As many values.</param>
    public void Compute(ReadOnlySpan<double> power, Span<double> excitation)
    {
        excitation.Clear();
        for (int source = 0; source < power.Length; source++)
        {
            if (power[source] < 1)
            {
                continue;
            }

            double above = 10 * Math.Log10(power[source]) - LevelOfEqualSidesDb;
            for (int place = 0; place < excitation.Length; place++)
            {
                double p = sharpness[place];
                if (place > source)
                {
                    // The sound lies on the lower side of this filter, which widens with its level.
                    p = Math.Max(BluntestShare * p, p - SharpnessPerDb * (p / SharpnessAt1kHz) * above);
                }

                double pg = p * Math.Abs(centreHz[source] - centreHz[place]) / centreHz[place];
                if (pg < 30)
                {
                    excitation[place] += power[source] * (1 + pg) * Math.Exp(-pg);
                }
            }
        }
    }
}
