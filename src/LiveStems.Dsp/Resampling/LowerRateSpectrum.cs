namespace LiveStems.Dsp.Resampling;

/// <summary>
/// The spectrum of a <see cref="ResamplingPrototype"/>: gain against frequency as a share of the lower rate.
/// </summary>
/// <remarks>
/// The integral of the prototype times a cosine, taken as a sum over steps of a quarter of a period of the lower rate. What the
/// sum folds into the band lies beyond 3.5 times the lower rate, where the prototype is below −150 dB and falling.
/// </remarks>
internal sealed class LowerRateSpectrum
{
    private const int StepsPerPeriod = 4;

    private static readonly Lazy<LowerRateSpectrum> Made = new(() => new LowerRateSpectrum());

    private readonly double[] values;

    private LowerRateSpectrum()
    {
        ResamplingPrototype prototype = new(new ResamplingRatio(2, 1));
        double periodFrames = 2 * prototype.HalfWidth / ResamplingPrototype.LowerRatePeriods;
        values = new double[(int)(ResamplingPrototype.LowerRatePeriods / 2 * StepsPerPeriod)];
        for (int i = 0; i < values.Length; i++)
        {
            values[i] = prototype.At(i * periodFrames / StepsPerPeriod) * periodFrames / StepsPerPeriod;
        }
    }

    /// <summary>Measured against the lower rate, the spectrum is the same for all pairs of rates.</summary>
    public static LowerRateSpectrum Shared => Made.Value;

    /// <summary>The gain at a frequency, 0 to 0.5 of the lower rate; 1 in the pass-band.</summary>
    public double At(double shareOfLowerRate)
    {
        // cos(nθ) by Chebyshev's recurrence, backwards as Clenshaw sums it.
        double twice = 2 * Math.Cos(2 * Math.PI * shareOfLowerRate / StepsPerPeriod);
        double next = 0;
        double afterNext = 0;
        for (int n = values.Length - 1; n > 0; n--)
        {
            (next, afterNext) = (values[n] + twice * next - afterNext, next);
        }

        double half = values[0] / 2 + twice / 2 * next - afterNext;
        return 2 * half;
    }
}
