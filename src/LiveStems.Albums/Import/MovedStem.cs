namespace LiveStems.Albums.Import;

/// <summary>A stem that was found at another place in the album's folder.</summary>
/// <param name="Song">Title of its song.</param>
/// <param name="Stem">Name of the stem.</param>
/// <param name="From">Path it had in the album.</param>
/// <param name="To">Path it has now.</param>
public sealed record MovedStem(string Song, string Stem, string From, string To);
