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

        if (wanted is null)
        {
            return [.. Enumerable.Range(0, album.Songs.Length)];
        }

        if (int.TryParse(wanted, out int number) && number >= 1 && number <= album.Songs.Length)
        {
            return [number - 1];
        }

        List<int> exact = Places(album, title => title.Equals(wanted, StringComparison.OrdinalIgnoreCase));
        List<int> beginning = exact.Count == 1 ? exact : Places(album, title => title.StartsWith(wanted, StringComparison.OrdinalIgnoreCase));
        return beginning.Count == 1
            ? beginning
            : throw new UsageException($"'{wanted}' {(beginning.Count == 0 ? "is no song of the album" : "fits several songs")}; there are {string.Join(", ", album.Songs.Select((song, index) => $"{index + 1} {song.Title}"))}");
    }

    private static List<int> Places(Album album, Func<string, bool> fits) =>
        [.. Enumerable.Range(0, album.Songs.Length).Where(index => fits(album.Songs[index].Title))];
}
