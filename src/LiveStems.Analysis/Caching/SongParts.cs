using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Caching;

/// <summary>Parts of a song that are rendered by themselves.</summary>
internal static class SongParts
{
    /// <summary>The song with one stem only, the stems its processors listen to muted beside it, and nothing on the bus.</summary>
    public static Song Alone(Song song, int index)
    {
        Stem stem = song.Stems[index];
        HashSet<string> keys =
        [
            .. stem.Parallels.Select(parallel => parallel.Chain).Append(stem.Chain)
                .SelectMany(chain => chain.Slots).Select(slot => slot.KeyStem).OfType<string>(),
        ];
        IEnumerable<Stem> listenedTo = song.Stems
            .Where(other => keys.Contains(other.Name) && other.Name != stem.Name)
            .Select(other => other with { Chain = Chain.Empty, Parallels = [], Placement = other.Placement with { Muted = true } });
        return song with { Stems = [stem, .. listenedTo], Bus = Chain.Empty };
    }

    /// <summary>The song with one stem as it enters its chain.</summary>
    public static Song AsDelivered(Song song, string name)
    {
        Stem stem = song.Stems.First(each => each.Name == name);
        Placement placement = stem.Placement with { GainDb = 0, Pan = 0, Muted = false };
        return song with { Stems = [stem with { Chain = Chain.Empty, Parallels = [], Placement = placement }], Bus = Chain.Empty };
    }
}
