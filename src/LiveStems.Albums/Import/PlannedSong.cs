namespace LiveStems.Albums.Import;

/// <summary>A song that shall enter the album.</summary>
/// <param name="Title">Its title.</param>
/// <param name="Files">Its stems and perhaps a rough mix, in order.</param>
/// <param name="IsPart">True for single files of the song's folder.</param>
internal sealed record PlannedSong(string Title, IReadOnlyList<PlannedFile> Files, bool IsPart);
