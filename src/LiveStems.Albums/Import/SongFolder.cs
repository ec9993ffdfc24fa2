namespace LiveStems.Albums.Import;

/// <summary>A folder with the sound files of one song.</summary>
/// <param name="Path">The folder.</param>
/// <param name="Title">Title of the song.</param>
/// <param name="Files">Its sound files in natural order.</param>
internal sealed record SongFolder(string Path, string Title, IReadOnlyList<string> Files)
{
    /// <summary>Those of the files that are meant; null for all.</summary>
    public IReadOnlySet<string>? Chosen { get; init; }
}
