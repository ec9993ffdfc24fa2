using System.Collections.Immutable;
using LiveStems.Albums.Editing;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;

namespace LiveStems.Albums.Import;

/// <summary>
/// Takes what an import brought over into an album that may have been changed while files were read: only what the import
/// itself did is done to the album as it is.
/// </summary>
public static class LateImport
{
    /// <summary>The album as it is with everything that the import brought; the same album when it brought nothing.</summary>
    /// <param name="present">The album as it is.</param>
    /// <param name="before">The album that the import began with.</param>
    /// <param name="after">The album that the import made of it.</param>
    public static Album Onto(Album present, Album before, Album after)
    {
        int?[] places = SongPlaces.After(before, present);
        Album now = present;
        for (int i = 0; i < after.Songs.Length; i++)
        {
            Song? was = i < before.Songs.Length ? before.Songs[i] : null;
            if (after.Songs[i] != was)
            {
                now = Onto(now, was is null ? null : places[i], was, after.Songs[i]);
            }
        }

        return now;
    }

    private static Album Onto(Album now, int? place, Song? was, Song brought)
    {
        int index = place ?? ImportMerge.IndexOf(now.Songs, song => Same(song.Title, brought.Title));
        if (index >= 0)
        {
            return now with { Songs = now.Songs.SetItem(index, Onto(now.Songs[index], was, brought)) };
        }

        // A song that was taken out of the album meanwhile does not come back with its old stems.
        Song added = was is null ? brought : Onto(new Song(brought.Title, null, null, null, [], Chain.Empty, []), was, brought);
        return added.Stems.IsEmpty && added.RoughMix is null ? now : now with { Songs = now.Songs.Add(added) };
    }

    private static Song Onto(Song present, Song? was, Song brought)
    {
        ImmutableArray<Stem> stems = present.Stems;
        for (int i = 0; i < brought.Stems.Length; i++)
        {
            Stem? earlier = i < was?.Stems.Length ? was.Stems[i] : null;
            if (brought.Stems[i] != earlier)
            {
                stems = earlier is null ? Added(stems, brought.Stems[i]) : Exchanged(stems, earlier, brought.Stems[i]);
            }
        }

        return present with { Stems = stems, RoughMix = brought.RoughMix == was?.RoughMix ? present.RoughMix : brought.RoughMix };
    }

    private static ImmutableArray<Stem> Added(ImmutableArray<Stem> stems, Stem stem)
    {
        if (stems.Any(each => each.File == stem.File))
        {
            return stems;
        }

        string name = stem.Name;
        for (int number = 2; stems.Any(each => Same(each.Name, name)); number++)
        {
            name = $"{stem.Name} {number}";
        }

        return stems.Add(stem with { Name = name });
    }

    // The file is another or lies elsewhere; what was done with the stem stays.
    private static ImmutableArray<Stem> Exchanged(ImmutableArray<Stem> stems, Stem earlier, Stem brought)
    {
        int index = ImportMerge.IndexOf(stems, each => each.File == earlier.File);
        index = index >= 0 ? index : ImportMerge.IndexOf(stems, each => StemTree.IdentityOf(each) == StemTree.IdentityOf(earlier));
        return index < 0 ? stems : stems.SetItem(index, stems[index] with { File = brought.File, Sha256 = brought.Sha256 });
    }

    private static bool Same(string one, string other) => one.Equals(other, StringComparison.OrdinalIgnoreCase);
}
