namespace LiveStems.Dsp.Spectral;

/// <summary>
/// The smooth spectrum that a power spectrum's peaks stand on: its mean over a stretch that grows with frequency as
/// hearing's bandwidth does (<see cref="ErbScale"/>), from which peaks are kept out.
/// </summary>
/// <remarks>
/// The mean over ±<see cref="HalfWidthErb"/> bandwidths, never less than ±<see cref="FewestBins"/> bins, is taken
/// <see cref="Passes"/> times; before all but the first, power beyond twice the last result is cut off. A lone peak, however high,
/// thus adds no more than about its width in bins over the stretch. A flat spectrum is its own trend to rounding. On
/// noise, whose power in a bin is spread exponentially, the trend T settles at the solution of T = 1 − e^(−2T), 0.80 of the mean,
/// −1.0 dB.
/// </remarks>
public sealed class SpectralTrend
{
    /// <summary>Reach to either side, in equivalent rectangular bandwidths.</summary>
    public const double HalfWidthErb = 1.5;

    /// <summary>Least reach to either side, in bins, four times the half width of a Hann window's main lobe.</summary>
    public const int FewestBins = 8;

    /// <summary>Times the mean is taken.</summary>
    public const int Passes = 4;

    private readonly double[] sums;
    private readonly int[] first;
    private readonly int[] end;
    private readonly double[] share;

    /// <summary>Prepares for spectra of <paramref name="bins"/> bins that lie <paramref name="binHz"/> apart from 0 Hz up.</summary>
    public SpectralTrend(int bins, double binHz)
    {
        sums = new double[bins + 1];
        first = new int[bins];
        end = new int[bins];
        share = new double[bins];
        for (int bin = 0; bin < bins; bin++)
        {
            int reach = Math.Max(FewestBins, (int)Math.Round(HalfWidthErb * ErbScale.BandwidthHz(bin * binHz) / binHz));
            first[bin] = Math.Max(0, bin - reach);
            end[bin] = Math.Min(bins, bin + reach + 1);
            share[bin] = 1.0 / (end[bin] - first[bin]);
        }
    }

    /// <summary>Writes the trend of a power spectrum; both spans have the prepared number of bins, and do not overlap.</summary>
    public void Compute(ReadOnlySpan<float> power, Span<float> trend)
    {
        Accumulate(power);
        Average(trend);
        for (int pass = 1; pass < Passes; pass++)
        {
            AccumulateBelowTwice(power, trend);
            Average(trend);
        }
    }

    private void Accumulate(ReadOnlySpan<float> power)
    {
        double sum = 0;
        for (int bin = 0; bin < power.Length; bin++)
        {
            sum += power[bin];
            sums[bin + 1] = sum;
        }
    }

    private void AccumulateBelowTwice(ReadOnlySpan<float> power, ReadOnlySpan<float> trend)
    {
        double sum = 0;
        for (int bin = 0; bin < power.Length; bin++)
        {
            float most = 2 * trend[bin];
            sum += power[bin] < most ? power[bin] : most;
            sums[bin + 1] = sum;
        }
    }

    private void Average(Span<float> trend)
    {
        for (int bin = 0; bin < trend.Length; bin++)
        {
            trend[bin] = (float)((sums[end[bin]] - sums[first[bin]]) * share[bin]);
        }
    }
}
