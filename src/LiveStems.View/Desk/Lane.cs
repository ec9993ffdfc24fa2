using LiveStems.Engine.Live;

namespace LiveStems.View.Desk;

/// <summary>
/// A path over the time of its song: level before and after its treatment, and the gain reduction of each of its
/// processors, in columns of equal length.
/// </summary>
/// <param name="Place">Its chain.</param>
/// <param name="Name">"Bass", "Drums, Pressed", "song bus".</param>
/// <param name="InputPeakDbfs">Largest sample of every column before the chain; −∞ for silence.</param>
/// <param name="OutputPeakDbfs">Largest sample of every column after the chain, before gain and pan.</param>
/// <param name="OutputRmsDbfs">Root mean square of every column after the chain, both sides.</param>
/// <param name="Reductions">Gain reduction of every column in dB, 0 or below, by the id of the processor.</param>
public sealed record Lane(
    TapPlace Place,
    string Name,
    float[] InputPeakDbfs,
    float[] OutputPeakDbfs,
    float[] OutputRmsDbfs,
    IReadOnlyDictionary<string, float[]> Reductions)
{
    /// <summary>Gain reduction of all processors together in a column, in dB.</summary>
    public float ReductionDb(int column)
    {
        float sum = 0;
        foreach (float[] reduction in Reductions.Values)
        {
            sum += reduction[column];
        }

        return sum;
    }
}

/// <summary>All lanes of a song.</summary>
/// <param name="ColumnSeconds">Length of a column.</param>
/// <param name="Lanes">The stems in order, each followed by its parallels, then the song bus.</param>
public sealed record LaneSet(double ColumnSeconds, IReadOnlyList<Lane> Lanes)
{
    /// <summary>Before anything is known.</summary>
    public static LaneSet None { get; } = new(1, []);

    /// <summary>Number of columns.</summary>
    public int Columns => Lanes.Count == 0 ? 0 : Lanes[0].OutputPeakDbfs.Length;

    /// <summary>The lane of a chain, or null.</summary>
    public Lane? Of(TapPlace chain) => Lanes.FirstOrDefault(lane => lane.Place == chain);
}
