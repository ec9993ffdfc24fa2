using LiveStems.Albums.Model;
using LiveStems.Dsp.Loudness;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Measuring;

/// <summary>The songs of an album measured one by one and as a whole.</summary>
/// <param name="Songs">The songs.</param>
/// <param name="IntegratedLufs">Loudness of all songs in a row, gated as one programme.</param>
/// <param name="LoudnessRangeLu">Loudness range of all songs in a row.</param>
/// <param name="TruePeakDbtp">Largest true peak of all.</param>
public sealed record AlbumMeasurement(IReadOnlyList<SongMeasurement> Songs, double IntegratedLufs, double LoudnessRangeLu, double TruePeakDbtp)
{
    /// <summary>Renders and measures songs by their places in the album.</summary>
    /// <param name="album">The album.</param>
    /// <param name="albumFolder">Its folder.</param>
    /// <param name="places">Which songs.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="progress">Told the song and the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    /// <exception cref="Files.AudioFileException">A stem cannot be read.</exception>
    public static AlbumMeasurement Measure(
        Album album, string albumFolder, IReadOnlyList<int> places, ProcessorCatalogue catalogue, Action<string, double>? progress, CancellationToken cancellation)
    {
        AlbumLoudness whole = new();
        List<SongMeasurement> songs = [];
        foreach (int place in places)
        {
            Song song = album.Songs[place];
            int done = songs.Count;
            songs.Add(SongMeasurement.Measure(song, albumFolder, catalogue, whole, share => progress?.Invoke(song.Title, (done + share) / places.Count), cancellation));
        }

        return new AlbumMeasurement(songs, whole.IntegratedLufs, whole.LoudnessRangeLu, songs.Max(song => song.Loudness.TruePeakDbtp));
    }
}
