using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;

namespace LiveStems.Albums.History;

/// <summary>Where songs stand after a change of the album: known by their titles, and those of another title by their stems.</summary>
public static class SongPlaces
{
    /// <summary>True when every song stands where it stood and is called what it was.</summary>
    public static bool AreSame(Album before, Album after)
    {
        if (before.Songs.Length != after.Songs.Length)
        {
            return false;
        }

        for (int i = 0; i < before.Songs.Length; i++)
        {
            if (before.Songs[i].Title != after.Songs[i].Title)
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>For every song of the earlier album its index in the later one; null for one that is gone.</summary>
    public static int?[] After(Album before, Album after)
    {
        int?[] places = new int?[before.Songs.Length];
        HashSet<int> taken = [];
        Pair((was, now) => was.Title == now.Title);
        Pair((was, now) => !was.Stems.IsEmpty && Sounds(was).SequenceEqual(Sounds(now)));
        Pair((was, now) => Sounds(was).Intersect(Sounds(now)).Any());
        return places;

        void Pair(Func<Song, Song, bool> same)
        {
            for (int was = 0; was < places.Length; was++)
            {
                for (int now = 0; now < after.Songs.Length && places[was] is null; now++)
                {
                    if (!taken.Contains(now) && same(before.Songs[was], after.Songs[now]))
                    {
                        places[was] = now;
                        taken.Add(now);
                    }
                }
            }
        }
    }

    /// <summary>What a stem of a song is called after a change of the song; null when it is gone.</summary>
    public static string? StemAfter(Song before, Song after, string stem)
    {
        if (after.Stems.Any(each => each.Name == stem))
        {
            return stem;
        }

        Stem? was = before.Stems.FirstOrDefault(each => each.Name == stem);
        return was is null ? null : after.Stems.FirstOrDefault(now =>
            StemTree.IdentityOf(now) == StemTree.IdentityOf(was) && before.Stems.All(each => each.Name != now.Name))?.Name;
    }

    private static IEnumerable<string> Sounds(Song song) => song.Stems.Select(StemTree.IdentityOf);
}
