using LiveStems.Albums.Model;
using LiveStems.Engine.Comparing;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Analysis.Parallels;

/// <summary>A parallel and its stem as songs of which one path is heard, before the song chain.</summary>
internal static class ParallelPaths
{
    /// <summary>The stem alone, without its parallels.</summary>
    public static Song Dry(Song song, string stem) => Only(song, stem, isDryOut: false, null);

    /// <summary>One parallel alone, at its blend.</summary>
    public static Song Wet(Song song, string stem, string parallel) => Only(song, stem, isDryOut: true, parallel);

    /// <summary>The song with one parallel changed.</summary>
    /// <exception cref="ComparisonException">There is no such stem or parallel.</exception>
    public static Song With(Song song, string stem, string parallel, Func<Parallel, Parallel> change)
    {
        Stem found = Find(song, stem);
        Parallel old = Find(found, parallel);
        Stem changed = found with { Parallels = found.Parallels.Replace(old, change(old)) };
        return song with { Stems = song.Stems.Replace(found, changed) };
    }

    /// <summary>The stem of that name.</summary>
    public static Stem Find(Song song, string stem) =>
        song.Stems.FirstOrDefault(each => each.Name == stem) ?? throw new ComparisonException($"the song '{song.Title}' has no stem '{stem}'");

    /// <summary>The parallel of that name.</summary>
    public static Parallel Find(Stem stem, string parallel) =>
        stem.Parallels.FirstOrDefault(each => each.Name == parallel) ?? throw new ComparisonException($"'{stem.Name}' has no parallel '{parallel}'");

    private static Song Only(Song song, string name, bool isDryOut, string? parallel)
    {
        Stem heard = Find(song, name);
        return song with
        {
            Bus = Chain.Empty,
            Stems = [.. song.Stems.Select(stem => stem with
            {
                IsDryOut = isDryOut && ReferenceEquals(stem, heard),
                Placement = stem.Placement with { Soloed = false, Muted = !ReferenceEquals(stem, heard) },
                Parallels = [.. stem.Parallels.Select(each => each with { Muted = each.Name != parallel })],
            })],
        };
    }
}
