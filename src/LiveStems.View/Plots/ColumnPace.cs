namespace LiveStems.View.Plots;

/// <summary>Makes columns at a steady pace of values that come with every picture, however often pictures come; of several in one column the deepest counts.</summary>
/// <param name="columnsPerSecond">Columns in a second.</param>
/// <param name="most">Columns at once at most, after a long rest.</param>
internal sealed class ColumnPace(double columnsPerSecond, int most)
{
    private double due;
    private double deepest;

    /// <summary>Takes a value in dB, 0 or below, that holds since the one before; gives how many columns are to be added now, all as deep.</summary>
    public (int Columns, double DeepestDb) Take(double db, double seconds)
    {
        deepest = Math.Min(deepest, db);
        due = Math.Min(most, due + seconds * columnsPerSecond);
        int columns = (int)due;
        if (columns == 0)
        {
            return default;
        }

        due -= columns;
        double taken = deepest;
        deepest = 0;
        return (columns, taken);
    }

    /// <summary>Begins anew.</summary>
    public void Clear() => (due, deepest) = (0, 0);
}
