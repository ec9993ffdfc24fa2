using LiveStems.Dsp.Spectral;

namespace LiveStems.Dsp.Resampling;

/// <summary>The half-band filters between a rate and its double, for sound that leaves most of the band empty.</summary>
internal static class HalfBandTaps
{
    /// <summary>What they may add or leave: below that of the filter of the whole chain.</summary>
    private const double AttenuationDb = 160;

    /// <summary>
    /// The taps that make the point half-way between two samples from as many on either side as Kaiser's formula asks for.
    /// </summary>
    /// <param name="lowerRate">Twice the highest frequency that counts, as a share of the lower of the two rates; below 1.</param>
    public static double[] For(double lowerRate)
    {
        // At the higher rate the band ends at lowerRate/4 and the first image begins at 1/2 − lowerRate/4.
        double transition = Math.PI * (1 - lowerRate);
        double taps = 1 + (AttenuationDb - 7.95) / (2.285 * transition);
        return OversamplerTaps.HalfWayExact((int)Math.Ceiling((taps + 1) / 4), KaiserWindow.Beta(AttenuationDb));
    }
}
