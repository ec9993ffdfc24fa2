namespace LiveStems.Analysis.Trouble;

/// <summary>
/// Resonances: ranges about as narrow as an auditory filter in which even the floor between the partials stands above the
/// floor of the surroundings for seconds on end. Partials of notes, however high, leave the floor where it is; held with vibrato
/// they lift it, but then it still lies farther below them than that of noise does.
/// </summary>
internal sealed class RingFinder(SlowBands bands, StemRows rows, TroubleSettings settings)
{
    /// <summary>Least height of the floor above its trend, dB.</summary>
    public const double ThresholdDb = 3.3;

    /// <summary>In rugged surroundings: how many times their root mean square height over bands and time.</summary>
    public const double Deviations = 2.2;

    /// <summary>A floor so far above its trend is a finding however rugged its surroundings are, dB.</summary>
    public const double SurelyDb = 8;

    /// <summary>
    /// Most that the floor may lie below the band's mean power, dB; beyond, what is heard there are partials. Of noise, whose
    /// lines' powers have an exponential distribution, three in ten lie below −ln 0.7 of the mean, 4.5 dB under it; of two
    /// channels apart 2.6 dB. A resonance's slopes and the averaging over rows take the rest.
    /// </summary>
    public const double DeepestFloorDb = 5.5;

    /// <summary>Rows whose floor lies deeper than this do not count for a resonance at all, dB.</summary>
    public const double DeepestRowDb = 6.5;

    /// <summary>A resonance lifts the band's power by at least this share of what it lifts the floor by.</summary>
    public const double LeastPowerShare = 0.5;

    /// <summary>Narrower peaks are single lines, Cam.</summary>
    public const double NarrowestCam = 0.75;

    /// <summary>In surroundings no more rugged than this, root mean square dB, there are no partials, and peaks may be narrower.</summary>
    public const double CalmDb = 2;

    /// <summary>Most that the floor may lie below the mean power there: a resonance at a low frequency is narrower than a band, dB.</summary>
    public const double DeepestInCalmDb = 9;

    /// <summary>Narrowest peak there, Cam.</summary>
    public const double NarrowestInCalmCam = 0.5;

    /// <summary>Broader ones are the sound of the instrument, Cam.</summary>
    public const double BroadestCam = 2.25;

    /// <summary>Least time that it sounds, rests left out, seconds.</summary>
    public const double LeastSoundingSeconds = 1.6;

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
        ContrastTable power = ContrastTable.Of(bands.Power, count, rows.Active, SmoothingRows);
        double[][] depth = ContrastTable.Depth(bands.Power, bands.Floor, count, rows.Active, SmoothingRows);
        double[] squares = SquaresOver(contrast);
        double loudest = Enumerable.Range(0, count).Max(band => PowerDb(band, [(0, rows.Active.Length - 1)]));
        bool[] calm = [.. Enumerable.Range(0, count).Select(band => Ruggedness(squares, band) <= CalmDb)];
        PersistentPeaks peaks = new(
            contrast.WhereAtMost(depth, band => calm[band] ? DeepestInCalmDb + 1 : DeepestRowDb), rows.Active, rows.RowSeconds, bands.Grid.Nearest(LowestHz), bands.Grid.Nearest(HighestHz) + 1, ShortestSeconds);
        return peaks
            .Find(
                band => Math.Clamp(Deviations * Ruggedness(squares, band), ThresholdDb, SurelyDb) - settings.SensitivityDb,
                peak => IsResonance(peak, calm[Band(peak)], power, loudest))
            .Select(peak => new RingFound(peak, PowerDb(Band(peak), peak.Rows)));
    }

    private static int Band(PeakFound peak) => (int)Math.Round(peak.Band);

    private bool IsResonance(PeakFound peak, bool isCalm, ContrastTable power, double loudest)
    {
        if (peak.WidthCam < (isCalm ? NarrowestInCalmCam : NarrowestCam) || peak.WidthCam > BroadestCam)
        {
            return false;
        }

        int band = Band(peak);
        double own = PowerDb(band, peak.Rows);
        List<int> sounding = [.. peak.Rows.SelectMany(run => Enumerable.Range(run.First, run.Last - run.First + 1)).Where(row => rows.Active[row])];
        return sounding.Count * rows.RowSeconds >= LeastSoundingSeconds
            && own > loudest - InaudibleBelowDb
            && own - FloorPowerDb(band, peak.Rows) <= (isCalm ? DeepestInCalmDb : DeepestFloorDb)
            && sounding.Average(row => power.Rows[row][band]) >= LeastPowerShare * peak.SurplusDb;
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

/// <summary>A ring and how loud it is.</summary>
/// <param name="Peak">Where and when.</param>
/// <param name="PowerDb">Mean level per bin while it lasts.</param>
internal sealed record RingFound(PeakFound Peak, double PowerDb);
