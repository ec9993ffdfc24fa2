namespace LiveStems.Albums.Import;

/// <summary>What is to be imported.</summary>
/// <param name="AlbumFolder">Folder of the album; made when it is not there, extended when it holds an album.</param>
/// <param name="Folders">Folders with the sound files of a song, or with such folders.</param>
public sealed record ImportOrder(string AlbumFolder, IReadOnlyList<string> Folders)
{
    /// <summary>Sound files that are meant by themselves, and not all of the folders they lie in: stems of the songs called after those folders.</summary>
    public IReadOnlyList<string> Files { get; init; } = [];

    /// <summary>Title of a new album; null for the name of its folder.</summary>
    public string? Title { get; init; }

    /// <summary>Artist of a new album.</summary>
    public string Artist { get; init; } = string.Empty;
}
