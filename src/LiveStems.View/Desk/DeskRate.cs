using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Planning;
using LiveStems.Files;
using LiveStems.Files.Reading;

namespace LiveStems.View.Desk;

/// <summary>The rate that a desk's sound runs at: that of the song it opens with; the others are converted where they differ.</summary>
internal static class DeskRate
{
    private const int Usual = 48_000;

    /// <param name="song">The song that is opened; null for none.</param>
    /// <param name="folder">The album's folder.</param>
    public static int For(Song? song, string folder)
    {
        if (song is null)
        {
            return Usual;
        }

        List<int> rates = [.. song.Stems.Select(stem => Of(AlbumPath.OnDisk(folder, stem.File))).OfType<int>()];
        return rates.Count == 0 ? song.SampleRate ?? Usual : RateChoice.For(song, rates, null);
    }

    private static int? Of(string path)
    {
        try
        {
            using IAudioReader reader = AudioFile.Open(path);
            return reader.Info.SampleRate;
        }
        catch (Exception fault) when (fault is AudioFileException or IOException or UnauthorizedAccessException)
        {
            // That it is missing is told when the song is opened.
            return null;
        }
    }
}
