namespace LiveStems.Albums.Import;

/// <summary>A file or folder that the import left alone.</summary>
/// <param name="Path">Where it is.</param>
/// <param name="Reason">Why, in a few words.</param>
public sealed record SkippedFile(string Path, string Reason);
