namespace LiveStems.Albums.Import;

/// <summary>A file that is part of the album after the import.</summary>
/// <param name="Source">Where it was found.</param>
/// <param name="Song">Title of its song.</param>
/// <param name="Stem">Name of the stem, or null for the rough mix.</param>
/// <param name="AlbumPath">Its path in the album.</param>
/// <param name="Change">What the import did.</param>
public sealed record ImportedFile(string Source, string Song, string? Stem, string AlbumPath, ImportChange Change);
