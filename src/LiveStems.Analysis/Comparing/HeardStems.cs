using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Comparing;

/// <summary>Leaves out of a song what cannot be heard in it, so that it need not be computed.</summary>
internal static class HeardStems
{
    /// <summary>The song without the stems that are muted and that no processor listens to.</summary>
    public static Song Of(Song song)
    {
        HashSet<string> keys = [.. song.Stems.Where(stem => !stem.Placement.Muted)
            .SelectMany(stem => stem.Parallels.Where(parallel => !parallel.Muted).Select(parallel => parallel.Chain).Append(stem.Chain))
            .Append(song.Bus)
            .SelectMany(chain => chain.Slots)
            .Select(slot => slot.KeyStem)
            .OfType<string>()];
        Stem[] heard = [.. song.Stems.Where(stem => !stem.Placement.Muted || keys.Contains(stem.Name)).Select(stem => stem.Placement.Muted
            ? stem with { Chain = Chain.Empty, Parallels = [] }
            : stem)];
        return heard.Length == 0 ? song : song with { Stems = [.. heard] };
    }
}
