using System.Globalization;
using System.Text;
using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Delivery;

/// <summary>The cue sheet of the continuous album: titles, performer, recording codes, pauses and starts.</summary>
public static class CueSheet
{
    /// <summary>Most tracks that a cue sheet holds.</summary>
    public const int MostTracks = 99;

    /// <summary>The sheet, UTF-8 text with carriage returns and line feeds.</summary>
    /// <param name="album">The album.</param>
    /// <param name="songs">Its songs, in the order of their places.</param>
    /// <param name="places">Where they stand.</param>
    /// <param name="sampleRate">Samples per second, a multiple of 75.</param>
    /// <param name="fileName">Name of the sound file beside it.</param>
    /// <param name="year">Year of the delivery.</param>
    /// <exception cref="DeliveryException">There are more tracks than a sheet holds.</exception>
    public static string Write(Album album, IReadOnlyList<Song> songs, IReadOnlyList<PlacedSong> places, int sampleRate, string fileName, int year)
    {
        if (songs.Count > MostTracks)
        {
            throw TooManyTracks(songs.Count);
        }

        StringBuilder sheet = new();
        Line($"REM DATE {year}");
        Line($"PERFORMER {Quoted(album.Artist)}");
        Line($"TITLE {Quoted(album.Title)}");
        Line($"FILE {Quoted(fileName)} WAVE");
        for (int i = 0; i < songs.Count; i++)
        {
            Line($"  TRACK {i + 1:00} AUDIO");
            Line($"    TITLE {Quoted(songs[i].Title)}");
            Line($"    PERFORMER {Quoted(album.Artist)}");
            if (songs[i].Isrc.Length > 0)
            {
                Line($"    ISRC {songs[i].Isrc}");
            }

            if (places[i].Pause is { } pause)
            {
                Line($"    INDEX 00 {DiscTime.Written(pause, sampleRate)}");
            }

            Line($"    INDEX 01 {DiscTime.Written(places[i].Mark, sampleRate)}");
        }

        return sheet.ToString();

        void Line(FormattableString text) => sheet.Append(text.ToString(CultureInfo.InvariantCulture)).Append("\r\n");
    }

    /// <summary>What is said of too many tracks.</summary>
    internal static DeliveryException TooManyTracks(int songs) =>
        new($"a cue sheet holds {MostTracks} tracks, the album has {songs} songs; deliver it in parts, or without --continuous");

    // The form knows no escapes: quotes inside become single ones.
    private static string Quoted(string text) => $"\"{text.Replace('"', '\'').ReplaceLineEndings(" ")}\"";
}
