using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Delivery;

/// <summary>
/// All that decides what a song's delivered files hold and say, apart from their date. A song that is delivered again
/// unchanged keeps the date of its first delivery and its reference, so that its files are the same bytes.
/// </summary>
/// <param name="album">The album.</param>
/// <param name="albumFolder">The folder that stem paths are relative to.</param>
/// <param name="catalogue">Knows the processors.</param>
internal sealed class SongStanding(Album album, string albumFolder, ProcessorCatalogue catalogue)
{
    // The field of a Broadcast Wave file takes 32 characters; half of a digest's 64 would leave no room for the place.
    private const int ReferenceDigits = 24;

    private readonly List<string> titles = [.. album.Songs.Select(song => song.Title)];
    private readonly string[] states = [.. album.Songs.Select(song => StateOf(album, song, albumFolder, catalogue))];

    /// <summary>A name for a file of a song, or of the album as one (−1), that is another whenever the song is.</summary>
    public string Reference(int song) => song < 0
        ? $"album-{SettingsDigest.Of(string.Concat(states))[..ReferenceDigits]}"
        : $"{song + 1:00}-{states[song][..ReferenceDigits]}";

    /// <summary>The date of every song of the album: of the first delivery in which it was as it is now, else a given one.</summary>
    /// <param name="log">Earlier deliveries, the oldest first.</param>
    /// <param name="today">Date of songs that were never delivered so.</param>
    public DateOnly[] Dates(IReadOnlyList<LoggedDelivery> log, DateOnly today)
    {
        DateOnly[] dates = [.. states.Select(_ => today)];
        foreach (LoggedDelivery earlier in log.Reverse().Where(earlier => earlier.Date is not null))
        {
            foreach (Song song in earlier.Album.Songs)
            {
                int index = titles.IndexOf(song.Title);
                if (index >= 0 && StateOf(earlier.Album, song, albumFolder, catalogue) == states[index])
                {
                    dates[index] = earlier.Date!.Value;
                }
            }
        }

        return dates;
    }

    private static string StateOf(Album album, Song song, string albumFolder, ProcessorCatalogue catalogue) =>
        SettingsDigest.Of($"{SettingsDigest.OfSettings(song, albumFolder, catalogue)}|{song.Title}|{song.Isrc}|{EdgeWords.Of(song.Edges)}|{album.Title}|{album.Artist}");
}
