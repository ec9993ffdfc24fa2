namespace LiveStems.Engine.Live;

/// <summary>A chain of a song, or one processor of it.</summary>
/// <param name="Stem">Index of the stem in its song; −1 for the song bus.</param>
/// <param name="Parallel">Index of a parallel under the stem; −1 for the stem's own chain.</param>
/// <param name="Slot">Id of a processor in the chain; null for the whole chain.</param>
public readonly record struct TapPlace(int Stem, int Parallel, string? Slot)
{
    /// <summary>The whole chain of the song bus.</summary>
    public static TapPlace Bus { get; } = new(-1, -1, null);

    /// <summary>True for the song bus and its processors.</summary>
    public bool IsBus => Stem < 0;

    /// <summary>The whole chain of a stem.</summary>
    public static TapPlace OfStem(int stem) => new(stem, -1, null);

    /// <summary>The whole chain that this is about.</summary>
    public TapPlace Chain => this with { Slot = null };

    /// <summary>"bus", "stem 2", "stem 2, parallel 0, compressor"; counted from 0.</summary>
    public override string ToString()
    {
        string chain = IsBus ? "bus" : Parallel < 0 ? $"stem {Stem}" : $"stem {Stem}, parallel {Parallel}";
        return Slot is null ? chain : $"{chain}, {Slot}";
    }
}
