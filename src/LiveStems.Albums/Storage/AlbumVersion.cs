using LiveStems.Albums.Model;

namespace LiveStems.Albums.Storage;

/// <summary>A named snapshot of an album's settings.</summary>
/// <param name="Name">Its name, unique in the album.</param>
/// <param name="SavedAt">When it was taken.</param>
/// <param name="Album">The album as it was.</param>
public sealed record AlbumVersion(string Name, DateTimeOffset SavedAt, Album Album);
