using LiveStems.Albums.Model;

namespace LiveStems.Albums.Import;

/// <summary>A file that shall enter the album.</summary>
/// <param name="Source">Full path of the file.</param>
/// <param name="StemName">Name of the stem, or null for a rough mix.</param>
/// <param name="Role">What it plays, as far as its name tells.</param>
/// <param name="AlbumPath">The path it shall have in the album.</param>
/// <param name="IsInside">True when it lies there already.</param>
internal sealed record PlannedFile(string Source, string? StemName, StemRole Role, string AlbumPath, bool IsInside);
