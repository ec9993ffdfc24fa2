using LiveStems.Albums.Storage;

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

    /// <summary>Several faults of an album; the message shows the first and says how many more there are.</summary>
    /// <param name="subject">What has the faults, as the engineer knows it: the path of the album file, of a folder.</param>
    /// <param name="faults">All the faults, at least one.</param>
    /// <param name="remedy">What to do to see the others, such as "'livestems show ALBUM' lists all"; may be empty.</param>
    public AlbumException(string subject, AlbumFaults faults, string remedy)
        : base(OneLine(subject, faults, remedy))
    {
        Faults = faults;
    }

    /// <summary>Every fault that was found, each with its place; empty when the message says it all.</summary>
    public AlbumFaults Faults { get; } = new();

    private static string OneLine(string subject, AlbumFaults faults, string remedy)
    {
        string first = $"{subject}: {faults[0]}";
        string more = remedy.Length == 0 ? $"; and {faults.Count - 1} more" : $"; and {faults.Count - 1} more: {remedy}";
        return faults.Count == 1 ? first : first + more;
    }
}
