namespace LiveStems.Analysis.Trouble;

/// <summary>
/// Levels of many bands over time in memory that does not grow: when the table is full, every two rows become their mean
/// and a row stands for twice the time.
/// </summary>
/// <remarks>4096 rows of 0.17 s last 11 minutes; of an hour, a row is 1.4 s.</remarks>
internal sealed class TimeTable
{
    /// <summary>Most rows there can be.</summary>
    public const int Capacity = 4096;

    private readonly List<float[]> rows = [];
    private readonly float[] pending;
    private int pendingCount;

    /// <summary>An empty table.</summary>
    /// <param name="columns">Values of a row.</param>
    /// <param name="rowSeconds">Time that a row stands for at first.</param>
    public TimeTable(int columns, double rowSeconds)
    {
        pending = new float[columns];
        RowSeconds = rowSeconds;
    }

    /// <summary>Rows there are.</summary>
    public int Rows => rows.Count;

    /// <summary>Time that a row stands for now.</summary>
    public double RowSeconds { get; private set; }

    /// <summary>Frames that make a row now.</summary>
    public int FramesPerRow { get; private set; } = 1;

    /// <summary>The values of a row.</summary>
    public ReadOnlySpan<float> Row(int row) => rows[row];

    /// <summary>Adds the values of one frame.</summary>
    public void Add(ReadOnlySpan<float> values)
    {
        for (int column = 0; column < pending.Length; column++)
        {
            pending[column] += values[column];
        }

        if (++pendingCount == FramesPerRow)
        {
            EndRow();
        }
    }

    private void EndRow()
    {
        float[] row = new float[pending.Length];
        for (int column = 0; column < row.Length; column++)
        {
            row[column] = pending[column] / pendingCount;
        }

        Array.Clear(pending);
        pendingCount = 0;
        rows.Add(row);
        if (rows.Count == Capacity)
        {
            Halve();
        }
    }

    private void Halve()
    {
        for (int pair = 0; pair < Capacity / 2; pair++)
        {
            float[] kept = rows[2 * pair];
            float[] other = rows[2 * pair + 1];
            for (int column = 0; column < kept.Length; column++)
            {
                kept[column] = (kept[column] + other[column]) / 2;
            }

            rows[pair] = kept;
        }

        rows.RemoveRange(Capacity / 2, Capacity / 2);
        RowSeconds *= 2;
        FramesPerRow *= 2;
    }
}
