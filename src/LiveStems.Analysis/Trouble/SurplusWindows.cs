namespace LiveStems.Analysis.Trouble;

/// <summary>
/// How far every narrow band stands above the stem's own trend in windows of three seconds, each three quarters of a second
/// after the one before.
/// </summary>
/// <remarks>
/// The trend is the higher of two courses along the peaks (<see cref="PeakTrend"/>): that of the window itself, and that of
/// the whole stem moved with the loudness of the window; where one note sounds alone the first says nothing.
/// </remarks>
internal sealed class SurplusWindows
{
    /// <summary>Length of a window, seconds.</summary>
    public const double Seconds = 3;

    /// <summary>How far the trend of the whole stem is lowered where a stem changes its colour, dB.</summary>
    public const double EaseDb = 10;

    private const int HopsPerWindow = 4;
    private const double LeastSoundingShare = 0.4;
    private const double SoftestDb = -25;
    private const double LoudestDb = 6;

    private readonly double[] stemTrend;
    private readonly double meanTotal;
    private readonly StemRows rows;

    public SurplusWindows(TimeTable fine, StemRows rows)
    {
        this.rows = rows;
        Rows = Math.Clamp((int)Math.Round(Seconds / rows.RowSeconds), 1, Math.Max(1, fine.Rows));
        Hop = Math.Max(1, Rows / HopsPerWindow);
        Power = [.. Enumerable.Range(0, fine.Rows).Select(row => Powers(fine.Row(row)))];
        int bands = Power.Length == 0 ? 0 : Power[0].Length;
        StemDb = new double[bands];
        MeanDb(0, Power.Length, StemDb);
        stemTrend = new double[bands];
        PeakTrend.Compute(StemDb, stemTrend);
        meanTotal = MeanTotal(0, Power.Length);
        Count = Math.Max(0, (Power.Length - Rows) / Hop + 1);
        Sounds = new bool[Count];
        LevelDb = new double[Count][];
        SurplusDb = new double[Count][];
        EasedSurplusDb = new double[Count][];
        for (int window = 0; window < Count; window++)
        {
            Judge(window, bands);
        }
    }

    /// <summary>Rows of a window.</summary>
    public int Rows { get; }

    /// <summary>Rows from one window to the next.</summary>
    public int Hop { get; }

    /// <summary>Windows there are.</summary>
    public int Count { get; }

    /// <summary>Whether the stem sounds for enough of a window to judge it.</summary>
    public bool[] Sounds { get; }

    /// <summary>Level of each band by window, dB.</summary>
    public double[][] LevelDb { get; }

    /// <summary>Height of each band above the trend by window, dB.</summary>
    public double[][] SurplusDb { get; }

    /// <summary>The same with the trend of the whole stem lowered, dB.</summary>
    public double[][] EasedSurplusDb { get; }

    /// <summary>Level of each band over the whole stem, dB.</summary>
    public double[] StemDb { get; }

    /// <summary>Power of each band by row.</summary>
    public double[][] Power { get; }

    /// <summary>The trend of the whole stem at a band, moved with the loudness of some rows, dB.</summary>
    public double StemTrendDb(int band, int firstRow, int endRow) =>
        stemTrend[band] + Math.Clamp(10 * Math.Log10((MeanTotal(firstRow, endRow) + 1e-20) / (meanTotal + 1e-20)), SoftestDb, LoudestDb);

    private static double[] Powers(ReadOnlySpan<float> levels)
    {
        double[] powers = new double[levels.Length];
        for (int band = 0; band < powers.Length; band++)
        {
            powers[band] = Math.Pow(10, levels[band] / 10.0);
        }

        return powers;
    }

    private void Judge(int window, int bands)
    {
        int first = window * Hop;
        int end = first + Rows;
        LevelDb[window] = new double[bands];
        SurplusDb[window] = new double[bands];
        EasedSurplusDb[window] = new double[bands];
        Sounds[window] = MeanDb(first, end, LevelDb[window]) >= LeastSoundingShare * Rows;
        if (!Sounds[window])
        {
            return;
        }

        double moved = StemTrendDb(0, first, end) - stemTrend[0];
        for (int band = 0; band < bands; band++)
        {
            double local = LevelDb[window][band] - PeakTrend.At(LevelDb[window], band);
            double besideStem = LevelDb[window][band] - stemTrend[band] - moved;
            SurplusDb[window][band] = Math.Min(local, besideStem);
            EasedSurplusDb[window][band] = Math.Min(local, besideStem + EaseDb);
        }
    }

    // Writes the level of the mean power over the sounding rows and returns how many these are.
    private int MeanDb(int first, int end, double[] mean)
    {
        int count = 0;
        for (int row = first; row < end; row++)
        {
            if (rows.Active[row])
            {
                count++;
                for (int band = 0; band < mean.Length; band++)
                {
                    mean[band] += Power[row][band];
                }
            }
        }

        for (int band = 0; band < mean.Length; band++)
        {
            mean[band] = 10 * Math.Log10(mean[band] / Math.Max(1, count) + 1e-20);
        }

        return count;
    }

    private double MeanTotal(int first, int end)
    {
        double sum = 0;
        int count = 0;
        for (int row = Math.Max(0, first); row < Math.Min(end, Power.Length); row++)
        {
            if (rows.Active[row])
            {
                sum += Math.Pow(10, rows.LevelDb[row] / 10);
                count++;
            }
        }

        return sum / Math.Max(1, count);
    }
}
