namespace LiveStems.Albums.Storage;

/// <summary>One thing that is wrong.</summary>
/// <param name="Path">Where: a place in the album such as <c>songs[2].stems[4].sha256</c>, or the path of a file; empty for the whole.</param>
/// <param name="Message">What is wrong and how to mend it, on one line.</param>
public sealed record AlbumFault(string Path, string Message)
{
    /// <summary>Place and message on one line.</summary>
    public override string ToString() => Path.Length == 0 ? Message : $"{Path}: {Message}";
}
