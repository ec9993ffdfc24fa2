using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Planning;
using LiveStems.Files.Reading;
using LiveStems.Files.Writing;

namespace LiveStems.Analysis.Delivery;

/// <summary>
/// Whether what was ordered can be made, as far as that shows before anything is rendered: who delivers overnight must not
/// find in the morning that the last file was impossible from the start.
/// </summary>
internal static class OrderFitness
{
    private const int HighestCompactRate = 192_000;

    // EBU Tech 3285: the field of the Broadcast Wave file.
    private const int LongestOriginator = 32;

    /// <summary>Sees to it that nothing stands in the way.</summary>
    /// <exception cref="DeliveryException">Something does; the message says what, and what helps.</exception>
    /// <exception cref="Files.AudioFileException">A stem can't be read, or a library for the form asked for is missing.</exception>
    public static void Check(Album album, string albumFolder, DeliveryOrder order)
    {
        if (order.Originator.Length > LongestOriginator)
        {
            throw new DeliveryException($"the originator '{order.Originator}' does not fit into a Broadcast Wave file, which takes {LongestOriginator} characters; shorten it");
        }

        List<(Song Song, int Rate, double Seconds)> songs = [];
        foreach (Song song in order.Songs.Select(index => album.Songs[index]))
        {
            SongLimiter.Of(song, "deliver masters");
            foreach (Alternate alternate in order.Alternates)
            {
                alternate.LevelsIn(song);
            }

            songs.Add(Lengths(song, albumFolder));
        }

        foreach ((Song song, int rate, double seconds) in songs)
        {
            CheckEdges(song, seconds);
            CheckLinked(song, rate, order);
            CheckCompact(song, rate, order);
        }

        if (order.HasContinuous)
        {
            CheckContinuous(songs, order.Formats[0]);
        }
    }

    private static (Song Song, int Rate, double Seconds) Lengths(Song song, string albumFolder)
    {
        List<int> rates = [];
        double seconds = 0;
        foreach (Stem stem in song.Stems)
        {
            using IAudioReader reader = AudioFile.Open(AlbumPath.OnDisk(albumFolder, stem.File));
            rates.Add(reader.Info.SampleRate);
            seconds = Math.Max(seconds, reader.Info.Seconds);
        }

        return rates.Count > 0 ? (song, RateChoice.For(song, rates, null), seconds)
            : throw new DeliveryException($"'{song.Title}' has no stems; import some, or deliver the other songs with --song");
    }

    // A master may be a little longer than its stems, never by so much that cuts or fades of their whole length were meant.
    private static void CheckEdges(Song song, double seconds)
    {
        SongEdges edges = song.Edges;
        double left = seconds - edges.TrimStartSeconds - edges.TrimEndSeconds;
        if (edges.ChangesTheSong && (left <= 0 || edges.FadeInSeconds + edges.FadeOutSeconds > left))
        {
            throw EdgedSound.LeaveNothing(song.Title, seconds, edges);
        }
    }

    private static void CheckLinked(Song song, int rate, DeliveryOrder order)
    {
        if (!order.IsLinked || order.Alternates.Count == 0)
        {
            return;
        }

        if (song.Bus.Slots.Any(slot => slot.KeyStem is not null))
        {
            throw new DeliveryException($"'{song.Title}': a processor of the song bus listens to a stem, so alternates can't be linked to the master; ask for free ones");
        }

        if (order.Formats[0].SampleRate is { } asked && asked != rate)
        {
            throw new DeliveryException($"'{song.Title}': linked alternates come at the song's own rate of {rate} Hz; put a format at that rate first");
        }
    }

    private static void CheckCompact(Song song, int rate, DeliveryOrder order)
    {
        foreach (DeliveryFormat format in order.Formats.Where(format => format.IsFlac))
        {
            if (!FlacWriter.IsPossible)
            {
                throw new DeliveryException($"the format '{format.Id}': {FlacWriter.Needed()}");
            }

            if ((format.SampleRate ?? rate) > HighestCompactRate)
            {
                throw new DeliveryException($"'{song.Title}' runs at {rate} Hz and FLAC goes up to {HighestCompactRate} Hz; ask for WAV, such as --format archive");
            }
        }
    }

    private static void CheckContinuous(List<(Song Song, int Rate, double Seconds)> songs, DeliveryFormat format)
    {
        if (songs.Count > CueSheet.MostTracks)
        {
            throw CueSheet.TooManyTracks(songs.Count);
        }

        int rate = format.SampleRate ?? songs[0].Rate;
        foreach ((Song song, int own, _) in songs)
        {
            if (format.SampleRate is null && own != rate)
            {
                throw ContinuousAlbum.OtherRate(song.Title, own, rate);
            }
        }

        ContinuousAlbum.CheckRate(rate);
        AlbumLayout.Place([.. songs.Select(entry => (entry.Song.Title, (long)((entry.Seconds - entry.Song.Edges.TrimStartSeconds - entry.Song.Edges.TrimEndSeconds) * rate), entry.Song.Edges))], rate);
    }
}
