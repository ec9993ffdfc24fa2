using LiveStems.Albums.Model;

namespace LiveStems.Albums.Editing;

/// <summary>The processors of a song that listen to one of its stems.</summary>
internal static class StemKeys
{
    /// <summary>The song with a stem renamed, in the keys that listen to it too.</summary>
    public static Song Renamed(Song song, int index, string name)
    {
        string before = song.Stems[index].Name;
        Song renamed = song with { Stems = song.Stems.SetItem(index, song.Stems[index] with { Name = name }) };
        return renamed with
        {
            Bus = Rekeyed(renamed.Bus),
            Stems = [.. renamed.Stems.Select(stem => stem with
            {
                Chain = Rekeyed(stem.Chain),
                Parallels = [.. stem.Parallels.Select(parallel => parallel with { Chain = Rekeyed(parallel.Chain) })],
            })],
        };

        Chain Rekeyed(Chain chain) => chain.Slots.All(slot => slot.KeyStem != before)
            ? chain
            : chain with { Slots = [.. chain.Slots.Select(slot => slot.KeyStem == before ? slot with { KeyStem = name } : slot)] };
    }

    /// <summary>Where a processor listens to a stem from outside that stem, or null.</summary>
    public static string? UserOf(Song song, string stemName)
    {
        IEnumerable<(string Owner, Chain Chain)> others = song.Stems
            .Where(stem => stem.Name != stemName)
            .SelectMany(stem => stem.Parallels
                .Select(parallel => ($"{stem.Name}/parallel:{parallel.Name}", parallel.Chain))
                .Prepend((stem.Name, stem.Chain)))
            .Append(("bus", song.Bus));
        return others
            .SelectMany(other => other.Chain.Slots.Where(slot => slot.KeyStem == stemName).Select(slot => $"{other.Owner}/{slot.Id}"))
            .FirstOrDefault();
    }
}
