namespace LiveStems.Analysis.Trouble;

/// <summary>
/// Tones that ring at one pitch beside sound that has none: a single line far above its surroundings for seconds on end, where
/// the surroundings are noise. Among the partials of notes a line says nothing.
/// </summary>
internal sealed class LineFinder(SlowBands bands, StemRows rows, TroubleSettings settings)
{
    /// <summary>Least height of the line above the lines of noise around it, dB.</summary>
    public const double ThresholdDb = 18;

    /// <summary>Root mean square height of the surroundings up to which they are noise, dB.</summary>
    public const double CalmDb = 3.2;

    private const double LowestHz = 300;
    private const double HighestHz = 15_000;
    private const double ShortestSeconds = 4;
    private const int SmoothingRows = 2;
    private const double SurroundingsCam = 4;
    private const double OwnCam = 1;
    private const double InaudibleBelowDb = 50;

    public IEnumerable<(PeakFound Peak, double LineDb)> Find()
    {
        int count = bands.Grid.Bands;
        ContrastTable contrast = ContrastTable.Of(bands.Line, count, rows.Active, SmoothingRows);
        double[] mean = new double[count];
        double[] level = new double[count];
        for (int row = 0; row < rows.Active.Length; row++)
        {
            for (int band = 0; rows.Active[row] && band < count; band++)
            {
                mean[band] += contrast.Rows[row][band] / rows.ActiveCount;
                level[band] += Math.Pow(10, bands.Line.Row(row)[band] / 10.0) / rows.ActiveCount;
            }
        }

        double loudest = 10 * Math.Log10(level.Max() + 1e-16);
        PersistentPeaks peaks = new(contrast, rows.Active, rows.RowSeconds, bands.Grid.Nearest(LowestHz), bands.Grid.Nearest(HighestHz) + 1, ShortestSeconds);
        foreach (PeakFound peak in peaks.Find(_ => ThresholdDb - settings.SensitivityDb))
        {
            int band = (int)Math.Round(peak.Band);
            double line = 10 * Math.Log10(level[band] + 1e-16);
            if (Surroundings(mean, band) <= CalmDb && line > loudest - InaudibleBelowDb)
            {
                yield return (peak, line);
            }
        }
    }

    private static double Surroundings(double[] mean, int band)
    {
        double squares = 0;
        int count = 0;
        for (int other = 0; other < mean.Length; other++)
        {
            double away = Math.Abs(other - band) * TroubleGrid.StepCam;
            if (away is > OwnCam and <= SurroundingsCam)
            {
                squares += mean[other] * mean[other];
                count++;
            }
        }

        return Math.Sqrt(squares / Math.Max(1, count));
    }
}
