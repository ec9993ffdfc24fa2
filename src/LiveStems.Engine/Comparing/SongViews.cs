using LiveStems.Albums.Model;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Engine.Comparing;

/// <summary>Songs of which only a part is heard, made from the song itself.</summary>
internal static class SongViews
{
    public static Stem StemNamed(this Song song, string name) =>
        song.Stems.FirstOrDefault(stem => stem.Name == name)
        ?? throw new ComparisonException($"the song '{song.Title}' has no stem '{name}'; there is {string.Join(", ", song.Stems.Select(stem => stem.Name))}");

    public static Parallel ParallelNamed(this Stem stem, string name) =>
        stem.Parallels.FirstOrDefault(parallel => parallel.Name == name)
        ?? throw new ComparisonException(stem.Parallels.IsEmpty
            ? $"'{stem.Name}' has no parallel; add one first"
            : $"'{stem.Name}' has no parallel '{name}'; there is {string.Join(", ", stem.Parallels.Select(parallel => parallel.Name))}");

    public static Song WithStem(this Song song, string name, Func<Stem, Stem> change)
    {
        Stem stem = song.StemNamed(name);
        return song with { Stems = song.Stems.SetItem(song.Stems.IndexOf(stem), change(stem)) };
    }

    public static Stem WithParallel(this Stem stem, string name, Func<Parallel, Parallel> change)
    {
        Parallel parallel = stem.ParallelNamed(name);
        return stem with { Parallels = stem.Parallels.SetItem(stem.Parallels.IndexOf(parallel), change(parallel)) };
    }

    /// <summary>One stem with all that belongs to it, and nothing of the song chain.</summary>
    public static Song Alone(this Song song, string stem)
    {
        Stem heard = song.StemNamed(stem);
        return song.WithoutSongChain() with
        {
            Stems = [.. song.Stems.Select(each => each with
            {
                Placement = each.Placement with { Soloed = false, Muted = !ReferenceEquals(each, heard) },
            })],
        };
    }

    /// <summary>What comes out of a chain, heard alone: a stem without its parallels, or one parallel.</summary>
    public static Song Alone(this Song song, ChainPlace place)
    {
        if (place.Stem is null)
        {
            return song;
        }

        return song.Alone(place.Stem).WithStem(place.Stem, stem => stem with
        {
            IsDryOut = place.Parallel is not null,
            Parallels = [.. stem.Parallels.Select(parallel => parallel with { Muted = parallel.Name != place.Parallel })],
        });
    }

    public static Song WithoutSongChain(this Song song) => song with { Bus = Chain.Empty };

    /// <summary>A stem as it came: without chain, parallels, gain and pan; aligned and turned over as it is.</summary>
    public static Stem AsItCame(this Stem stem) => stem with
    {
        Chain = stem.Chain with { Bypassed = true },
        Parallels = [.. stem.Parallels.Select(parallel => parallel with { Muted = true })],
        Placement = stem.Placement with { GainDb = 0, Pan = 0 },
    };

    /// <summary>True when anything is done to a stem.</summary>
    public static bool IsTreated(this Stem stem) =>
        !stem.Chain.Slots.IsEmpty || !stem.Parallels.IsEmpty || stem.Placement.GainDb != 0 || stem.Placement.Pan != 0;
}
