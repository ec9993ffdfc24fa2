using LiveStems.Engine.Live;

namespace LiveStems.View.Desk;

/// <summary>The rows of the song's stems; as many as it has stems, each staying the same object.</summary>
internal sealed class StemRows(AlbumDesk desk)
{
    private readonly List<StemRow> rows = [];

    public IReadOnlyList<StemRow> All => rows;

    /// <summary>The song is another, or has been changed.</summary>
    public void Refresh()
    {
        int wanted = desk.Song.Stems.Length;
        if (rows.Count > wanted)
        {
            rows.RemoveRange(wanted, rows.Count - wanted);
        }

        while (rows.Count < wanted)
        {
            rows.Add(new StemRow(desk, rows.Count));
        }

        rows.ForEach(row => row.Refresh());
    }

    /// <summary>Meters, once a picture.</summary>
    public void Update(double seconds)
    {
        foreach (StemRow row in rows)
        {
            row.UpdateMeters(seconds);
        }
    }

    /// <summary>The levels at both ends of a stem's or a parallel's chain; null where the song has none.</summary>
    public PathMeter? MeterOf(TapPlace chain) => chain.Stem >= rows.Count ? null
        : chain.Parallel < 0 ? rows[chain.Stem].Meter
        : chain.Parallel < rows[chain.Stem].Parallels.Count ? rows[chain.Stem].Parallels[chain.Parallel].Meter : null;
}
