using LiveStems.Dsp.Spectral;

namespace LiveStems.Dsp.Resampling;

/// <summary>
/// The continuous-time low-pass behind a resampler: a sinc under a Kaiser window, 192 periods of the lower rate long.
/// </summary>
/// <remarks>
/// Smith and Gossett, "A flexible sampling-rate conversion method", ICASSP 1984, with the window and lengths of
/// <see cref="KaiserWindow"/>. The transition band ends at the Nyquist frequency of the lower rate, where −149 dB is
/// reached, so nothing folds; the response is flat within 10⁻⁴ dB up to 0.9 and within 0.01 dB up to 0.91 of it.
/// A window spends its whole length on being flat: unlike an equiripple design it has no pass-band ripple, and so no
/// pair of faint echoes 2 ms before and after each sound.
/// </remarks>
internal sealed class ResamplingPrototype
{
    public const double StopBandDb = 150;
    public const double LowerRatePeriods = 192;

    private readonly double beta = KaiserWindow.Beta(StopBandDb);
    private readonly double cutoff;
    private readonly bool passesThrough;

    public ResamplingPrototype(ResamplingRatio ratio)
    {
        if (ratio.Up == ratio.Down)
        {
            passesThrough = true;
            HalfWidth = 1;
            return;
        }

        // Oversampled so far that a tap more or less does not count, hence the width of a window of 192 periods + 1 tap.
        double transition = KaiserWindow.TransitionWidth(StopBandDb, LowerRatePeriods + 1) / Math.PI;
        cutoff = (1 - transition / 2) / ratio.Stretch;
        HalfWidth = LowerRatePeriods / 2 * ratio.Stretch;
    }

    /// <summary>The response is 0 from this many input frames before and after its centre on.</summary>
    public double HalfWidth { get; }

    /// <summary>The response at a time from its centre, in input frames; its integral is 1; for equal rates a single 1.</summary>
    public double At(double time)
    {
        if (passesThrough)
        {
            return time == 0 ? 1 : 0;
        }

        double angle = Math.PI * cutoff * time;
        double sinc = Math.Abs(angle) < 1e-9 ? 1 : Math.Sin(angle) / angle;
        return cutoff * sinc * KaiserWindow.Value(time / HalfWidth, beta);
    }
}
