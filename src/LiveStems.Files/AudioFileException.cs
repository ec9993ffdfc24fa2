namespace LiveStems.Files;

/// <summary>
/// A file cannot be used; the message is one line that names the file, says what is wrong, where, and how to mend it.
/// </summary>
public sealed class AudioFileException : Exception
{
    /// <summary>A fault of a file.</summary>
    public AudioFileException(string message)
        : base(message)
    {
    }

    /// <summary>A fault of a file that another fault caused.</summary>
    public AudioFileException(string message, Exception cause)
        : base(message, cause)
    {
    }
}
