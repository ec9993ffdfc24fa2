namespace LiveStems.Albums;

/// <summary>An album cannot be used or changed as asked; the message is one line that says what, where and how to mend it.</summary>
public sealed class AlbumException : Exception
{
    /// <summary>A fault of an album.</summary>
    public AlbumException(string message)
        : base(message)
    {
    }

    /// <summary>A fault of an album that another fault caused.</summary>
    public AlbumException(string message, Exception cause)
        : base(message, cause)
    {
    }
}
