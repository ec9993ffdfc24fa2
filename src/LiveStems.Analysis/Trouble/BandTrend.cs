namespace LiveStems.Analysis.Trouble;

/// <summary>
/// The smooth course of levels over bands: at each band a straight line fitted to its surroundings, weighted by a raised
/// cosine; what stands above the course is cut off and the fit repeated, so that peaks do not pull it up.
/// </summary>
internal sealed class BandTrend
{
    /// <summary>Reach to either side, Cam.</summary>
    public const double ReachCam = 4;

    /// <summary>Times it is fitted.</summary>
    public const int Passes = 4;

    /// <summary>How far above the course a level counts in the next pass, dB.</summary>
    public const double CutDb = 1.5;

    private readonly int reach = (int)(ReachCam / TroubleGrid.StepCam);
    private readonly double[] weights;
    private readonly double[] cut;

    public BandTrend(int bands)
    {
        cut = new double[bands];
        weights = new double[2 * reach + 1];
        for (int k = -reach; k <= reach; k++)
        {
            double cosine = Math.Cos(Math.PI * k / (2.0 * (reach + 1)));
            weights[k + reach] = cosine * cosine;
        }
    }

    /// <summary>Writes the course of levels in dB.</summary>
    public void Compute(ReadOnlySpan<double> levels, Span<double> trend)
    {
        levels.CopyTo(cut);
        for (int pass = 0; pass < Passes; pass++)
        {
            for (int band = 0; band < levels.Length; band++)
            {
                trend[band] = Fit(band);
            }

            for (int band = 0; band < levels.Length; band++)
            {
                cut[band] = Math.Min(levels[band], trend[band] + CutDb);
            }
        }
    }

    private double Fit(int band)
    {
        int first = Math.Max(0, band - reach);
        int last = Math.Min(cut.Length - 1, band + reach);
        double s = 0, sx = 0, sxx = 0, sy = 0, sxy = 0;
        for (int other = first; other <= last; other++)
        {
            double x = other - band;
            double w = weights[other - band + reach];
            double y = cut[other];
            s += w;
            sx += w * x;
            sxx += w * x * x;
            sy += w * y;
            sxy += w * x * y;
        }

        return (sxx * sy - sx * sxy) / (sxx * s - sx * sx);
    }
}
