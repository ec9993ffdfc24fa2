namespace LiveStems.Analysis.Trouble;

/// <summary>
/// Resonances: ranges about as narrow as an auditory filter in which even the floor between the partials stands above the
/// floor of the surroundings for seconds on end. Partials of notes, however high, leave the floor where it is.
/// </summary>
internal sealed class RingFinder(SlowBands bands, StemRows rows, TroubleSettings settings)
{
    /// <summary>Least height of the floor above its trend, dB.</summary>
    public const double ThresholdDb = 3.3;

    /// <summary>In rugged surroundings: how many times their root mean square height over bands and time.</summary>
    public const double Deviations = 2.4;

    /// <summary>A floor so far above its trend is a finding however rugged its surroundings are, dB.</summary>
    public const double SurelyDb = 9.5;

    /// <summary>Most that the floor may lie below the band's mean power: beyond, what is heard there are partials, dB.</summary>
    public const double DeepestFloorDb = 9;

    /// <summary>Farther than this below the loudest band a ring is not heard, dB.</summary>
    public const double InaudibleBelowDb = 50;

    public const double LowestHz = 150;
    public const double HighestHz = 15_000;

    private const double ShortestSeconds = 3.2;
    private const int SmoothingRows = 2;
    private const double SurroundingsCam = 6;
    private const double OwnCam = 1;

    public IEnumerable<RingFound> Find()
    {
        int count = bands.Grid.Bands;
        ContrastTable contrast = ContrastTable.Of(bands.Floor, count, rows.Active, SmoothingRows);
        double[] squares = SquaresOver(contrast);
        double[] loud = [.. Enumerable.Range(0, count).Select(band => PowerDb(band, [(0, rows.Active.Length - 1)]))];
        double loudest = loud.Max();
        PersistentPeaks peaks = new(contrast, rows.Active, rows.RowSeconds, bands.Grid.Nearest(LowestHz), bands.Grid.Nearest(HighestHz) + 1, ShortestSeconds);
        foreach (PeakFound peak in peaks.Find(band => Math.Clamp(Deviations * Ruggedness(squares, band), ThresholdDb, SurelyDb) - settings.SensitivityDb))
        {
            int band = (int)Math.Round(peak.Band);
            double power = PowerDb(band, peak.Rows);
            double depth = power - FloorPowerDb(band, peak.Rows);
            yield return new RingFound(peak, power, depth)
            {
                IsHeard = depth <= DeepestFloorDb && power > loudest - InaudibleBelowDb,
            };
        }
    }

    private double[] SquaresOver(ContrastTable contrast)
    {
        double[] mean = new double[bands.Grid.Bands];
        for (int row = 0; row < rows.Active.Length; row++)
        {
            for (int band = 0; rows.Active[row] && band < mean.Length; band++)
            {
                mean[band] += contrast.Rows[row][band] * contrast.Rows[row][band] / rows.ActiveCount;
            }
        }

        return mean;
    }

    private static double Ruggedness(double[] meanSquare, int band)
    {
        int far = (int)(SurroundingsCam / TroubleGrid.StepCam);
        int near = (int)(OwnCam / TroubleGrid.StepCam);
        double squares = 0;
        int count = 0;
        for (int other = Math.Max(0, band - far); other <= Math.Min(meanSquare.Length - 1, band + far); other++)
        {
            if (Math.Abs(other - band) > near)
            {
                squares += meanSquare[other];
                count++;
            }
        }

        return Math.Sqrt(squares / Math.Max(1, count));
    }

    private double PowerDb(int band, IReadOnlyList<(int First, int Last)> stretches) => MeanPowerDb(bands.Power, band, stretches);

    private double FloorPowerDb(int band, IReadOnlyList<(int First, int Last)> stretches) => MeanPowerDb(bands.Floor, band, stretches);

    private double MeanPowerDb(TimeTable table, int band, IReadOnlyList<(int First, int Last)> stretches)
    {
        double sum = 0;
        int count = 0;
        foreach ((int first, int last) in stretches)
        {
            for (int row = first; row <= last; row++)
            {
                if (rows.Active[row])
                {
                    sum += Math.Pow(10, table.Row(row)[band] / 10.0);
                    count++;
                }
            }
        }

        return count == 0 ? SlowBands.SilenceDb : 10 * Math.Log10(sum / count + 1e-16);
    }
}

/// <summary>A ring and what speaks for it.</summary>
/// <param name="Peak">Where and when.</param>
/// <param name="PowerDb">Mean level per bin while it lasts.</param>
/// <param name="DepthDb">How far its floor lies below its power.</param>
internal sealed record RingFound(PeakFound Peak, double PowerDb, double DepthDb)
{
    /// <summary>True when it is the ring that is heard there, and heard at all.</summary>
    public bool IsHeard { get; init; }
}
