namespace LiveStems.View.Desk;

/// <summary>
/// A stem over the time of its song: level before and after its treatment, and the gain reduction of each of its
/// processors, in columns of equal length.
/// </summary>
/// <param name="Stem">Name of the stem; empty for the song bus.</param>
/// <param name="InputPeakDbfs">Largest sample of every column before the chain.</param>
/// <param name="OutputPeakDbfs">Largest sample of every column after the chain, before gain and pan.</param>
/// <param name="OutputRmsDbfs">Root mean square of every column after the chain, both sides, in dBFS.</param>
/// <param name="Reductions">Gain reduction of every column in dB, 0 or below, by the id of the processor.</param>
public sealed record Lane(
    string Stem,
    float[] InputPeakDbfs,
    float[] OutputPeakDbfs,
    float[] OutputRmsDbfs,
    IReadOnlyDictionary<string, float[]> Reductions);

/// <summary>All lanes of a song.</summary>
/// <param name="ColumnSeconds">Length of a column.</param>
/// <param name="Lanes">The stems in order, then the song bus.</param>
public sealed record LaneSet(double ColumnSeconds, IReadOnlyList<Lane> Lanes)
{
    /// <summary>Before anything is known.</summary>
    public static LaneSet None { get; } = new(1, []);

    /// <summary>The lane of a stem by its name, or null.</summary>
    public Lane? Of(string stem) => Lanes.FirstOrDefault(lane => lane.Stem == stem);
}

/// <summary>The lanes of the song that the desk shows: from memory or disk at once, computed in the background where missing.</summary>
public sealed class LaneModel
{
    private readonly AlbumDesk desk;

    internal LaneModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>The lanes, as far as they are known; a new object whenever more is.</summary>
    public LaneSet Lanes { get; private set; } = LaneSet.None;

    /// <summary>True while they are being computed; the job of kind "lanes" says how far it is.</summary>
    public bool IsComputing => desk.Jobs.Open("lanes") is not null;

    /// <summary>True when the song has been changed since the lanes were computed: levels and reductions may be others now.</summary>
    public bool IsStale { get; private set; } = true;

    internal void OnSongChanged() => IsStale = true;

    internal void Update() => IsStale |= Lanes.Lanes.Count == 0;

    internal void Take(LaneSet lanes)
    {
        Lanes = lanes;
        IsStale = false;
    }
}
