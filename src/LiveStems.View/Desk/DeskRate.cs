using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Planning;
using LiveStems.Files;
using LiveStems.Files.Reading;

namespace LiveStems.View.Desk;

/// <summary>The rate that a desk's sound runs at: that of the album's first song; the others are converted where they differ.</summary>
internal static class DeskRate
{
    private const int Usual = 48_000;

    public static int For(Album album, string folder)
    {
        if (album.Songs.IsEmpty)
        {
            return Usual;
        }

        Song song = album.Songs[0];
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
