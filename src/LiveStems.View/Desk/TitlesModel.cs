using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Files;
using LiveStems.Files.Reading;

namespace LiveStems.View.Desk;

/// <summary>
/// What album and song are called, and what goes into the files beside their sound; of the song that is shown. Texts are
/// those of the command <c>set</c>; "none" takes away what can be absent.
/// </summary>
public sealed class TitlesModel
{
    private const string None = "none";

    private readonly AlbumDesk desk;

    internal TitlesModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>The recording code as people write it; empty for none.</summary>
    public string RecordingCode => Isrc.Written(desk.Song.Isrc);

    /// <summary>The song's own rate with its unit; empty for that of most of its stems.</summary>
    public string SampleRate => desk.Song.SampleRate is { } rate ? AlbumFields.SampleRateHz.Format(rate) : string.Empty;

    /// <summary>The rough mix from the album's folder down; empty for none.</summary>
    public string RoughMix => desk.Song.RoughMix ?? string.Empty;

    /// <summary>Calls the album something else. Null, or what is wrong.</summary>
    public string? SetAlbumTitle(string text) => desk.Edit(album => album.Title == text.Trim() ? album : album with { Title = text.Trim() });

    /// <summary>Says who plays. Null, or what is wrong.</summary>
    public string? SetArtist(string text) => desk.Edit(album => album.Artist == text.Trim() ? album : album with { Artist = text.Trim() });

    /// <summary>Calls the song something else. Null, or what is wrong.</summary>
    public string? SetTitle(string text)
    {
        string? fault = SetOfSong("title", text);
        if (fault is null)
        {
            // Figures are kept by title.
            _ = desk.Songs.Recall();
        }

        return fault;
    }

    /// <summary>Sets the recording code, with or without hyphens. Null, or what is wrong.</summary>
    public string? SetRecordingCode(string text) => SetOfSong("isrc", text);

    /// <summary>Sets the rate that the song runs at: "48 kHz", or "none" for that of most stems. Null, or what is wrong.</summary>
    public string? SetSampleRate(string text) => SetOfSong("sampleRateHz", text);

    /// <summary>Sets the rough mix by a path, in full or from the album's folder down, or "none". Null, or what is wrong.</summary>
    public string? SetRoughMix(string path)
    {
        if (path.Trim().Equals(None, StringComparison.OrdinalIgnoreCase))
        {
            return SetOfSong("roughMix", None);
        }

        string file = Path.GetFullPath(path.Trim(), desk.Folder);
        try
        {
            AudioFile.Open(file).Dispose();
        }
        catch (Exception fault) when (fault is AudioFileException or IOException or UnauthorizedAccessException)
        {
            return desk.Refuse(fault.Message);
        }

        return AlbumPath.FromDisk(desk.Folder, file) is { } inside
            ? SetOfSong("roughMix", inside)
            : desk.Refuse($"{file} lies outside of the album's folder: copy it to {desk.Folder}, or import the folder with the stems and it");
    }

    private string? SetOfSong(string name, string text) => desk.Set($"{desk.Song.Title}.{name}", text);
}
