using LiveStems.Albums.Model;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary>Which songs of an album are meant.</summary>
internal static class SongChoice
{
    /// <summary>
    /// Places in the album: all songs for null, else the one with that number, title or unambiguous beginning.
    /// </summary>
    public static IReadOnlyList<int> From(Album album, string? wanted)
    {
        if (album.Songs.IsEmpty)
        {
            throw new UsageException("the album has no songs; 'livestems import' brings some in");
        }

        return wanted is null
            ? Places(album.Songs, _ => true)
            : [From([.. album.Songs.Select(song => song.Title)], wanted)];
    }

    /// <summary>The place of the title with that number, text or unambiguous beginning.</summary>
    public static int From(IReadOnlyList<string> titles, string wanted)
    {
        if (int.TryParse(wanted, out int number) && number >= 1 && number <= titles.Count)
        {
            return number - 1;
        }

        List<int> exact = Places(titles, title => title.Equals(wanted, StringComparison.OrdinalIgnoreCase));
        List<int> beginning = exact.Count == 1 ? exact : Places(titles, title => title.StartsWith(wanted, StringComparison.OrdinalIgnoreCase));
        return beginning.Count == 1
            ? beginning[0]
            : throw new UsageException($"'{wanted}' {(beginning.Count == 0 ? "is no song of the album" : "fits several songs")}; there are {string.Join(", ", titles.Select((title, index) => $"{index + 1} {title}"))}");
    }

    private static List<int> Places<T>(IReadOnlyList<T> all, Predicate<T> fits)
    {
        List<int> places = [];
        for (int i = 0; i < all.Count; i++)
        {
            if (fits(all[i]))
            {
                places.Add(i);
            }
        }

        return places;
    }
}
