namespace LiveStems.Analysis.Trouble;

/// <summary>In which rows a stem sounds, and how rows become times.</summary>
internal sealed class StemRows
{
    /// <summary>Below the loud rows by more than this a stem is silent, dB.</summary>
    public const double SilenceBelowLoudDb = 30;

    private const float NothingDb = -110;
    private readonly SlowBands bands;

    public StemRows(SlowBands bands, double seconds)
    {
        this.bands = bands;
        Seconds = seconds;
        LevelDb = [.. Enumerable.Range(0, bands.Power.Rows).Select(TotalDb)];
        LoudDb = LevelDb.Length == 0 ? double.NegativeInfinity : EndRows.Percentile(LevelDb, 0.95);
        Active = [.. LevelDb.Select(level => level > LoudDb - SilenceBelowLoudDb && level > NothingDb)];
        ActiveCount = Active.Count(active => active);
    }

    /// <summary>Length of the stem.</summary>
    public double Seconds { get; }

    /// <summary>Level that one row in twenty exceeds, dB of mean square.</summary>
    public double LoudDb { get; }

    /// <summary>Level of each row, dB of mean square.</summary>
    public double[] LevelDb { get; }

    public bool[] Active { get; }

    public int ActiveCount { get; }

    public double RowSeconds => bands.Power.RowSeconds;

    public double ActiveShare => Active.Length == 0 ? 0 : (double)ActiveCount / Active.Length;

    /// <summary>Middle of a row in seconds.</summary>
    public double At(int row) => bands.FirstRowSeconds + bands.Power.RowSeconds * row + (bands.Power.FramesPerRow - 1) * bands.Power.RowSeconds / bands.Power.FramesPerRow / 2;

    /// <summary>The stretch of rows, inside the file.</summary>
    public TimeRange Range(int first, int last)
    {
        double half = RowSeconds / 2;
        double start = Math.Clamp(At(first) - half, 0, Seconds);
        return new TimeRange(start, Math.Clamp(At(last) + half, start, Seconds));
    }

    private double TotalDb(int row)
    {
        ReadOnlySpan<float> levels = bands.Power.Row(row);
        double sum = 0;
        for (int band = 0; band < levels.Length; band += 2)
        {
            sum += Math.Pow(10, levels[band] / 10.0) * (bands.Grid.EndBin[band] - bands.Grid.FirstBin[band]) * (2 * TroubleGrid.StepCam / (2 * TroubleGrid.ReachCam));
        }

        return sum > 1e-16 ? 10 * Math.Log10(sum) : SlowBands.SilenceDb;
    }
}
