using LiveStems.Engine.Live;

namespace LiveStems.Engine.Offline;

/// <summary>A path of a song over its time, in columns of equal length.</summary>
/// <param name="Place">Its chain.</param>
/// <param name="Name">"Bass", "Drums, Crush", "song bus".</param>
/// <param name="InputPeak">Largest magnitude of every column before the chain, full scale 1.</param>
/// <param name="OutputPeak">Largest magnitude after the chain, before gain and pan.</param>
/// <param name="OutputRms">Root mean square after the chain, over both sides.</param>
/// <param name="Reductions">Deepest gain reduction of every column in dB, 0 or below, by the id of the processor; none for processors that never reduce.</param>
public sealed record PathOverview(
    TapPlace Place,
    string Name,
    float[] InputPeak,
    float[] OutputPeak,
    float[] OutputRms,
    IReadOnlyDictionary<string, float[]> Reductions);

/// <summary>All paths of a song over its time.</summary>
/// <param name="ColumnSeconds">Length of a column.</param>
/// <param name="Paths">The stems in order, each followed by its parallels, then the song bus.</param>
public sealed record SongOverview(double ColumnSeconds, IReadOnlyList<PathOverview> Paths);
