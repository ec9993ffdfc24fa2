using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Probe;
using LiveStems.App.Terminal;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.App.Verbs;

/// <summary>A chain of an album by its address: Song/Stem, Song/bus, or Song/Stem/parallel:Name for the two together.</summary>
internal static class ChainPlace
{
    private const string ParallelPrefix = "parallel:";

    /// <summary>What stands there, ready to be probed, and its name in words.</summary>
    /// <exception cref="UsageException">The text is no such address.</exception>
    /// <exception cref="Albums.AlbumException">Nothing is there; the message says what is near.</exception>
    public static (IProbed Probed, string Name) Find(Album album, string place)
    {
        string[] parts = place.Split('/', StringSplitOptions.TrimEntries);
        if (parts.Length is < 2 or > 3)
        {
            throw new UsageException($"--at takes Song/Stem, Song/bus or Song/Stem/parallel:Name, not '{place}'");
        }

        Song song = album.Songs[AlbumAddress.SongIndex(album, parts[0])];
        if (parts is [_, "bus"])
        {
            return (new ProbedChain(song.Bus, null, Processors.Catalogue), $"{song.Title}, song bus");
        }

        Stem stem = song.Stems[AlbumAddress.StemIndex(song, parts[1])];
        if (parts.Length == 2)
        {
            return (new ProbedChain(stem.Chain, null, Processors.Catalogue), $"{song.Title}, {stem.Name}");
        }

        string name = parts[2].StartsWith(ParallelPrefix, StringComparison.OrdinalIgnoreCase) ? parts[2][ParallelPrefix.Length..] : parts[2];
        Parallel parallel = stem.Parallels.FirstOrDefault(each => each.Name.StartsWith(name, StringComparison.OrdinalIgnoreCase))
            ?? throw new UsageException($"{stem.Name} has no parallel '{name}'{(stem.Parallels.IsEmpty ? string.Empty : $"; there are {string.Join(", ", stem.Parallels.Select(each => each.Name))}")}");
        return (new ProbedChain(stem.Chain, parallel, Processors.Catalogue), $"{song.Title}, {stem.Name} with its parallel {parallel.Name}");
    }
}
