using LiveStems.Albums.Model;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Engine.Comparing;

/// <summary>One chain of a song.</summary>
/// <param name="Stem">Name of the stem, or null for the song chain.</param>
/// <param name="Parallel">Name of the stem's parallel whose chain is meant, or null for the stem's own.</param>
public sealed record ChainPlace(string? Stem, string? Parallel = null)
{
    /// <summary>The song chain.</summary>
    public static ChainPlace SongChain { get; } = new(null, null);

    /// <summary>"Bass", "Drums, Crush", "song bus".</summary>
    public string Words => Stem is null ? "song bus" : Parallel is null ? Stem : $"{Stem}, {Parallel}";

    /// <summary>The chain.</summary>
    internal Chain In(Song song)
    {
        if (Stem is null)
        {
            return song.Bus;
        }

        Stem stem = song.StemNamed(Stem);
        return Parallel is null ? stem.Chain : stem.ParallelNamed(Parallel).Chain;
    }

    /// <summary>The song with another chain in this place.</summary>
    internal Song With(Song song, Func<Chain, Chain> change)
    {
        if (Stem is null)
        {
            return song with { Bus = change(song.Bus) };
        }

        return Parallel is null
            ? song.WithStem(Stem, stem => stem with { Chain = change(stem.Chain) })
            : song.WithStem(Stem, stem => stem.WithParallel(Parallel, parallel => parallel with { Chain = change(parallel.Chain) }));
    }
}
